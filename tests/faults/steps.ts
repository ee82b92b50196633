// What may happen in a schedule, each as likely as its weight.
export const STEPS = {
  shutter: 14,
  photograph: 12,
  'large photograph': 0.5,
  field: 18,
  mark: 6,
  move: 8,
  undo: 4,
  exchange: 28,
  'exchange, killed': 7,
  'exchange, cut off': 5,
  'exchange of all': 3,
  'backed up between': 2,
  'large photograph, killed': 0.7,
  'late request': 8,
  'tablet clock': 2,
  'tablet full': 3,
  'server clock': 1,
  'server restart': 3,
  backup: 3,
  restore: 2,
  copy: 2,
  'copy back': 1.5,
  'copied back, filled again': 0.6,
  'tablet lost': 0.8,
  'tablet cloned': 0.5,
} as const;
export type Step = keyof typeof STEPS;
/** What may happen at the server between two requests of a tablet. */
export const SERVER_STEPS = {
  'server restart': 3,
  restore: 3,
  'copy back': 3,
  backup: 1,
  copy: 1,
} as const satisfies Partial<Record<Step, number>>;
