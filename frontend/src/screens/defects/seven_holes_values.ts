/** Which seven holes of a rivet line are shown enlarged. */

export interface Seven {
  first: number;
  last: number;
}

/** The seven with a hole in their middle; at the ends of the line the first or last seven. */
export function sevenAt(hole: number, count: number): Seven {
  const first = Math.max(1, Math.min(hole - 3, count - 6));
  return { first, last: Math.min(first + 6, count) };
}

/** The next seven, the last of them overlapping where the line does not go on for seven. */
export function afterStep({ first }: Seven, by: 1 | -1, count: number): Seven {
  return sevenAt(first + 3 + by * 7, count);
}
