/** The least-squares rate of a crack's growth, with its standard error, as exact fractions. */

const FEWEST = 3;

/** Growth a day: `slope` ÷ `slope_of`, and the square of its standard error as a fraction. */
export interface Rate {
  slope: bigint;
  slope_of: bigint;
  square: bigint;
  square_of: bigint;
}

/** The rate of points (day, length); null with fewer than three, or all on one day.

With sums over n points, A = nΣx² − (Σx)², B = nΣxy − ΣxΣy and C = nΣy² − (Σy)², the slope is B ÷ A,
and the square of its standard error (AC − B²) ÷ (A²(n − 2)). */
export function rateOf(points: readonly (readonly [day: bigint, length: bigint])[]): Rate | null {
  if (points.length < FEWEST) return null;
  const n = BigInt(points.length);
  const sum = (term: (day: bigint, length: bigint) => bigint) =>
    points.reduce((total, [day, length]) => total + term(day, length), 0n);
  const x = sum((day) => day);
  const y = sum((_, length) => length);
  const a = n * sum((day) => day * day) - x * x;
  const b = n * sum((day, length) => day * length) - x * y;
  const c = n * sum((_, length) => length * length) - y * y;
  if (a === 0n) return null;
  return { slope: b, slope_of: a, square: a * c - b * b, square_of: a * a * (n - 2n) };
}

/** The whole root of a whole number, rounded down. */
export function wholeRoot(square: bigint): bigint {
  if (square < 2n) return square;
  let root = 1n << BigInt((square.toString(2).length + 1) >> 1);
  for (;;) {
    const next = (root + square / root) >> 1n;
    if (next >= root) return root;
    root = next;
  }
}
