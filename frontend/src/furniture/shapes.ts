import type { GradeFigure } from './words.ts';

/** Outlines in a box of 48: the sharp corners count the grade. */
export const GRADE_SHAPE: Record<GradeFigure, string> = {
  0: 'M24 7A17 17 0 1 1 24 41A17 17 0 1 1 24 7Z',
  1: 'M17 7H41V31A10 10 0 0 1 31 41H17A10 10 0 0 1 7 31V17A10 10 0 0 1 17 7Z',
  2: 'M2 24A23.63 23.63 0 0 1 46 24A23.63 23.63 0 0 1 2 24Z',
  3: 'M24 4L45 40.4H3Z',
  4: 'M3 3H45V45H3Z',
};

/** Inner square of grade 4, inside its double outline. */
export const GRADE_4_INNER = 'M8.5 8.5H39.5V39.5H8.5Z';

/** Bottom left open: how deep is not known. 0 is only for "Not graded ?"; 4 is the top. */
export const OPEN_SHAPE: Record<0 | 1 | 2 | 3, string> = {
  0: 'M32.5 38.7A17 17 0 1 0 15.5 38.7',
  1: 'M16 41A10 10 0 0 1 7 31V17A10 10 0 0 1 17 7H41V31A10 10 0 0 1 32 41',
  2: 'M8.2 32.9A23.63 23.63 0 0 1 2 24A23.63 23.63 0 0 1 46 24A23.63 23.63 0 0 1 39.8 32.9',
  3: 'M12 40.4H3L24 4L45 40.4H36',
};

/** Lowest ink of each shape in the box of 48. */
export const SHAPE_FOOT: Record<GradeFigure, number> = { 0: 42, 1: 42, 2: 40, 3: 41.4, 4: 46 };

/** Baseline of the numeral in the box of 48. */
export function numeralLine(grade: GradeFigure | null): number {
  return grade === 3 ? 36 : 31;
}
