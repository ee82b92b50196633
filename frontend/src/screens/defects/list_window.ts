/** Which rows of a long list are drawn: those in sight and a few beside. */

export interface Drawn {
  from: number;
  to: number;
  /** Height of what is left out above and below, px. */
  above: number;
  below: number;
}

const BESIDE = 8;

/** The top of every row, and the height of all. */
export function topsOf(heights: readonly number[]): number[] {
  const tops = [0];
  for (const height of heights) tops.push((tops.at(-1) as number) + height);
  return tops;
}

/** The rows to draw of a list whose tops are known, at a place of its scroller. */
export function drawnRows(tops: readonly number[], scroll: number, high: number): Drawn {
  const rows = tops.length - 1;
  const whole = tops[rows] ?? 0;
  const from = Math.max(0, rowAt(tops, scroll) - BESIDE);
  const to = Math.min(rows, rowAt(tops, scroll + high) + 1 + BESIDE);
  return { from, to, above: tops[from] ?? 0, below: whole - (tops[to] ?? whole) };
}

/** The row that lies at a height. */
export function rowAt(tops: readonly number[], at: number): number {
  let [low, high] = [0, Math.max(0, tops.length - 2)];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((tops[middle] as number) <= at) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Where to scroll so that a row is whole in sight; null: it is. */
export function scrollTo(
  tops: readonly number[],
  row: number,
  scroll: number,
  high: number,
): number | null {
  const [top, foot] = [tops[row] ?? 0, tops[row + 1] ?? 0];
  if (top < scroll) return top;
  return foot > scroll + high ? foot - high : null;
}
