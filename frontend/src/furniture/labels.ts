import { textWidth } from './measured.ts';

/** A mark on a view by its centre: exactly on its station, never moved. */
export interface ViewMark {
  id: string;
  x: number;
  y: number;
  size: number;
  /** "A/0002" and "Grade 3". */
  number: string;
  words: string;
}

export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

export interface PlacedLabel {
  mark: ViewMark;
  box: Box;
  /** Side of the mark on which the words stand. */
  side: 'left' | 'right';
  /** Thin line from mark to label where the label had to move off. */
  leader: { from: { x: number; y: number }; to: { x: number; y: number } } | null;
}

const HIGH = 38;
const CLEAR = 3;
const AWAY = [0, 22, 44, 70, 100, 130];
const ASIDE = [0, 22, 44, 66, 88];

/** A place for every label: beside its mark where there is room, else moved off on a leader. */
export function placeLabels(
  marks: ViewMark[],
  bounds: Box,
  obstacles: readonly Box[] = [],
): PlacedLabel[] {
  const covers = marks.map(markBox);
  const taken: Box[] = [...covers];
  return marks.map((mark, at) => {
    const others = covers.filter((_, other) => other !== at);
    const placed = bestPlace(mark, bounds, { taken, obstacles, others });
    taken.push(placed.box);
    return placed;
  });
}

/** What a mark covers. */
export function markBox(mark: Pick<ViewMark, 'x' | 'y' | 'size'>): Box {
  const half = mark.size / 2 + CLEAR;
  return { left: mark.x - half, top: mark.y - half, right: mark.x + half, bottom: mark.y + half };
}

function bestPlace(
  mark: ViewMark,
  bounds: Box,
  { taken, obstacles, others }: Record<'taken' | 'obstacles' | 'others', readonly Box[]>,
): PlacedLabel {
  let best: PlacedLabel | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const tried of triedPlaces(mark)) {
    let cost = outside(tried.box, bounds) * 4;
    if (cost < least) cost += overlap(tried.box, obstacles) * COVERED;
    if (cost < least) cost += overlap(tried.box, taken, least - cost);
    if (cost < least) cost += crossed(tried, others) * CROSSED;
    if (cost < least) {
      least = cost;
      best = tried;
    }
    if (cost === 0) break;
  }
  return best as PlacedLabel;
}

/** What a leader through another mark counts for, as area covered: a quarter of a label, for of a leader
that runs through a mark nobody knows whose it is. */
const CROSSED = 600;

/** How much worse it is to cover words of the view than to cover part of a mark or label. */
const COVERED = 4;

/** How many other marks the leader of a label runs through. */
function crossed({ leader }: PlacedLabel, others: readonly Box[]): number {
  return leader ? others.filter((box) => runsThrough(leader, box)).length : 0;
}

type Leader = NonNullable<PlacedLabel['leader']>;

/** Whether part of a line lies inside a box: what is left of it between the box's two pairs of
sides, as shares of its length (Liang and Barsky 1984, from memory). */
export function runsThrough({ from, to }: Leader, box: Box): boolean {
  let [enters, leaves] = [0, 1];
  for (const [start, end, low, high] of [
    [from.x, to.x, box.left, box.right],
    [from.y, to.y, box.top, box.bottom],
  ] as const) {
    if (start === end) {
      if (start <= low || start >= high) return false;
      continue;
    }
    const shares = [(low - start) / (end - start), (high - start) / (end - start)];
    enters = Math.max(enters, Math.min(...shares));
    leaves = Math.min(leaves, Math.max(...shares));
  }
  return enters < leaves;
}

/** Nearest first: right, left, then further off and to the sides. */
function* triedPlaces(mark: ViewMark): Generator<PlacedLabel> {
  const wide = Math.max(textWidth(mark.number, 18, true), textWidth(mark.words, 16)) + 6;
  for (const aside of ASIDE)
    for (const away of AWAY)
      for (const up of aside === 0 ? [0] : [-aside, aside])
        for (const side of ['right', 'left'] as const) yield placeAt(mark, wide, side, away, up);
}

function placeAt(
  mark: ViewMark,
  wide: number,
  side: 'left' | 'right',
  away: number,
  up: number,
): PlacedLabel {
  const reach = mark.size / 2 + CLEAR + away;
  const left = side === 'right' ? mark.x + reach : mark.x - reach - wide;
  const top = mark.y - HIGH / 2 + up;
  const box = { left, top, right: left + wide, bottom: top + HIGH };
  return { mark, box, side, leader: away === 0 && up === 0 ? null : leaderOf(mark, box, side) };
}

function leaderOf(mark: ViewMark, box: Box, side: 'left' | 'right') {
  const to = { x: side === 'right' ? box.left : box.right, y: (box.top + box.bottom) / 2 };
  const length = Math.hypot(to.x - mark.x, to.y - mark.y) || 1;
  const edge = (mark.size * 0.42) / length;
  const from = { x: mark.x + (to.x - mark.x) * edge, y: mark.y + (to.y - mark.y) * edge };
  return { from, to };
}

/** Area that a box shares with others; counted no further than `most`. */
function overlap(box: Box, taken: readonly Box[], most = Number.POSITIVE_INFINITY): number {
  let sum = 0;
  for (const other of taken) {
    sum += shared(box, other);
    if (sum >= most) break;
  }
  return sum;
}

/** The first of some places that covers nothing, else the one that covers least. */
export function clearest(places: readonly Box[], taken: readonly Box[]): Box | undefined {
  let best: Box | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const place of places) {
    const cost = overlap(place, taken, least);
    if (cost < least) [least, best] = [cost, place];
    if (cost === 0) break;
  }
  return best;
}

/** Area that two boxes share. */
export function shared(one: Box, other: Box): number {
  const wide = Math.min(one.right, other.right) - Math.max(one.left, other.left);
  const high = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
  return wide > 0 && high > 0 ? wide * high : 0;
}

function outside(box: Box, bounds: Box): number {
  return (box.right - box.left) * (box.bottom - box.top) - shared(box, bounds);
}
