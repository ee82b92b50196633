/** Records that may be the same defect seen twice, or one entered for the wrong hand.

Nothing is merged: a pair is a question for people, with the figures it rests on. */

import {
  across,
  type Couple,
  inOrder,
  overlapping,
  type PairRow,
  Reader,
  type Spot,
  within,
} from './pairs_spots';
import { decidedWords, oppositeReason, sameReason, twoWords } from './pairs_words';
import type { Definition } from './place';
import { TENTH_NM } from './quantities';
import { byNumber } from './same_as';

export type Query = 'same defect' | 'wrong hand';

/** Two records, the smaller number first, why they are asked about, and what was decided. */
export interface Pair {
  query: Query;
  records: [string, string];
  numbers: [string | null, string | null];
  reason: string;
  decided: string | null;
}

/** What stands of a record of kind `pair`: the two records asked about, and what was decided. */
export interface PairDecision {
  first?: unknown;
  second?: unknown;
  query?: unknown;
  decided?: unknown;
}

export const TWO_DEFECTS = 'two defects';
/** How far from each other two distances from a member may be on opposite hands. */
const ALONG = Number(TENTH_NM.in);
/** Two sightings this near are always asked about, however short they are. */
const NEAREST = 2 * ALONG;
const SIDE = /\b(?:port|starboard|left|right) /gi;

/** Same-defect candidates, then wrong-hand queries, each by number.

Candidates share structure, hand, kind group and a strake (where there are no strakes the part as
named) and lie within the greater of 2 in and half their lengths together. A wrong hand has the same
member, strakes and kind, and a distance from the member within 1 in. Rows without a place or kind,
and nil records, are in no pair. `decisions`: what stands of the records of kind `pair`. */
export function pairs(
  rows: readonly PairRow[],
  definition: Definition | null,
  decisions: readonly PairDecision[] = [],
): Pair[] {
  if (definition === null) return [];
  const reader = new Reader(definition);
  const spots = rows.flatMap((row, at) => reader.spot(at, row) ?? []);
  const decided = decisions.filter((one) => one.decided === TWO_DEFECTS);
  const two = new Set(decided.map((one) => coupleKey(one.query, one.first, one.second)));
  return [
    ...numbered(candidates(spots)).map((couple) => pairOf('same defect', couple, two)),
    ...numbered(opposites(spots)).map((couple) => pairOf('wrong hand', couple, two)),
  ];
}

/** Names two records asked about, whichever comes first. */
export function coupleKey(query: unknown, first: unknown, second: unknown): string {
  return JSON.stringify([query, ...[first, second].map((one) => JSON.stringify(one)).sort()]);
}

function numbered(couples: Iterable<Couple>): Couple[] {
  const found = [...couples];
  const met = new Map(found.flat().map((spot) => [spot.at, spot.row]));
  const ordered = [...met].sort(
    ([, a], [, b]) =>
      byNumber(a.number ?? '', b.number ?? '') ||
      (a.record < b.record ? -1 : a.record > b.record ? 1 : 0),
  );
  const ranks = new Map(ordered.map(([at], place) => [at, place]));
  const rank = (spot: Spot) => ranks.get(spot.at) as number;
  return found
    .map(([a, b]): Couple => (rank(a) < rank(b) ? [a, b] : [b, a]))
    .sort(([a, b], [c, d]) => rank(a) - rank(c) || rank(b) - rank(d));
}

/** The spots of each key. */
function bundled(keyed: Iterable<[unknown[], Spot]>): Map<string, Spot[]> {
  const bundles = new Map<string, Spot[]>();
  for (const [parts, spot] of keyed) {
    const key = JSON.stringify(parts);
    const bundle = bundles.get(key);
    if (bundle) bundle.push(spot);
    else bundles.set(key, [spot]);
  }
  return bundles;
}

/** Each candidate once: of the strakes two spots share, in the lowest. */
function* candidates(spots: readonly Spot[]): Iterable<Couple> {
  const keyed = spots.flatMap((spot) => {
    const key = [spot.row.airframe, spot.structure.name, spot.hand, spot.group];
    return besides(spot).map((beside): [unknown[], Spot] => [[beside, ...key], spot]);
  });
  for (const [key, bundle] of bundled(keyed)) {
    if (bundle.length < 2) continue;
    for (const couple of near(bundle)) {
      if (key.startsWith(`[${JSON.stringify(firstShared(couple))},`)) yield couple;
    }
  }
}

function besides(spot: Spot): unknown[] {
  if (spot.strakes === null) return [spot.beside];
  const [low, high] = spot.strakes;
  return Array.from({ length: high - low + 1 }, (_, up) => low + up);
}

function firstShared([first, second]: Couple): unknown {
  if (first.strakes === null || second.strakes === null) return first.beside;
  return Math.max(first.strakes[0], second.strakes[0]);
}

/** The pairs within the greater of 2 in and half their lengths together, each once. */
function* near(bundle: readonly Spot[]): Iterable<Couple> {
  yield* overlapping(bundle);
  for (const [first, second] of within(inOrder(bundle, 'station'), NEAREST)) {
    const apart = 2 * (second.station - first.station);
    if (apart > first.length + second.length) yield [first, second];
  }
}

function* opposites(spots: readonly Spot[]): Iterable<Couple> {
  const handed = spots.filter((spot) => spot.hand !== 'C');
  const keyed = handed.map((spot): [unknown[], Spot] => {
    const { row, member, structure } = spot;
    const side = structure.name.replace(SIDE, '');
    return [[row.airframe, side, member, row.kind, spot.strakes ?? spot.beside], spot];
  });
  for (const bundle of bundled(keyed).values()) {
    const [port, starboard] = (['P', 'S'] as const).map((hand) =>
      inOrder(
        bundle.filter((spot) => spot.hand === hand),
        'offset',
      ),
    );
    yield* across(port ?? [], starboard ?? [], ALONG);
  }
}

function pairOf(query: Query, [first, second]: Couple, two: ReadonlySet<string>): Pair {
  const records: Pair['records'] = [first.row.record, second.row.record];
  const isTwo = two.has(coupleKey(query, ...records));
  const isSame = query === 'same defect';
  return {
    query,
    records,
    numbers: [first.row.number, second.row.number],
    reason: isSame ? sameReason(first, second, 2 * NEAREST) : oppositeReason(first, second, ALONG),
    decided: decidedWords([first.row, second.row]) ?? (isTwo ? twoWords(query) : null),
  };
}
