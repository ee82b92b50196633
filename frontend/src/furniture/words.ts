import { STATES } from '../domain/rivet_line_states.ts';

export type GradeFigure = 0 | 1 | 2 | 3 | 4;

export const GRADE_NAMES = ['sound', 'light', 'moderate', 'severe', 'beyond limits'] as const;

/** "Grade 3", "Grade at least 2 ?", "Not graded ?". There is no "at least 0". */
export function gradeWords(grade: GradeFigure | null, at_least = false): string {
  if (grade === null || (at_least && grade === 0)) return 'Not graded ?';
  return at_least && grade < 4 ? `Grade at least ${grade} ?` : `Grade ${grade}`;
}

export type MarkState =
  | 'Draft'
  | 'Raised'
  | 'Assessed'
  | 'In work'
  | 'Offered'
  | 'Cleared'
  | 'Deferred'
  | 'Same as'
  | 'Raised in error';

export const MARK_STATES: readonly MarkState[] = [
  'Draft',
  'Raised',
  'Assessed',
  'In work',
  'Offered',
  'Cleared',
  'Deferred',
  'Same as',
  'Raised in error',
];

/** How a state is drawn, in words, for the key of marks. */
export const STATE_DRAWN: Record<MarkState, string> = {
  Draft: 'set out, not inked',
  Raised: 'plain',
  Assessed: 'ruled under',
  'In work': 'half-inked band',
  Offered: 'empty stamp box',
  Cleared: 'filled stamp box',
  Deferred: 'sunk, to a date',
  'Same as': 'two outlines',
  'Raised in error': 'struck out',
};

/** Words of a state as they stand on a sheet. */
export function stateWords(state: MarkState): string {
  return state === 'Offered' ? 'Offered for inspection' : state;
}

export type RivetState = 'S' | 'L' | 'W' | 'C' | 'T' | 'M' | 'D' | 'R' | 'V' | 'N' | '–';

/** Words of a rivet's state, and of a hole that nobody has come to. */
export const RIVET_WORDS = { ...STATES, '–': 'not asked yet' } as Record<RivetState, string>;

export const SAFETY_SHORT = 'Sorting aid, not approved data';
export const SAFETY_FULL =
  'Workshop record and sorting aid. Not approved repair data. Grades and strength shares do not release any part or aircraft for flight.';
