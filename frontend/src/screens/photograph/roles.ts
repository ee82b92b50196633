import type { PhotographRole } from '../../services/shop';

/** What a picture of a defect shows, in the order in which they are taken. */
export const ROLES: readonly PhotographRole[] = [
  ...(['wide', 'close', 'scale', 'after cleaning'] as const),
  ...(['before closing', 'closing'] as const),
];

const KNOWN: readonly string[] = [...ROLES, 'after work'];

/** The role that an address names; null where it names none. */
export function roleNamed(word: string | undefined): PhotographRole | null {
  return KNOWN.includes(word ?? '') ? (word as PhotographRole) : null;
}
