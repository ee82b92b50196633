import type { Definition, Place } from '../../domain/place';

export type Structure = Definition['structures'][number];

/** Strakes shown at once in the shell expansion. */
export const ROWS_SHOWN = 7;

/** Where a place lies on the developed view: station, and strakes counted out from the keel. */
export interface Spot {
  station: number;
  /** Port strakes count up from the keel, starboard down: −1 is the first strake to starboard. */
  from: number;
  to: number;
}

export interface RowWindow {
  /** Lowest and highest strake line shown, signed as in Spot. */
  low: number;
  high: number;
}

/** Strake lines as signed counts: port +, starboard −. */
export function spotOf(structure: Structure, place: Place, station: number): Spot {
  const [first, last] = strakeIndexes(structure, place);
  if (place.hand === 'S') return { station, from: -last, to: -first };
  return { station, from: first, to: last };
}

/** Indexes of the strakes of a place; a structure without strakes is one row. */
export function strakeIndexes(structure: Structure, place: Place): [number, number] {
  const names = structure.strakes ?? [];
  const [from, to] = place.strakes ?? [];
  const first = from === undefined ? 0 : Math.max(names.indexOf(from), 0);
  const last = to === undefined ? first + 1 : Math.max(names.indexOf(to), first);
  return place.hand === 'C' && first === last ? [first, first] : [first, Math.max(last, first + 1)];
}

/** Rows round a spot, two of them inboard of it, kept on the structure. */
export function rowsAround(structure: Structure, spot: Spot, shown = ROWS_SHOWN): RowWindow {
  const last = Math.max((structure.strakes?.length ?? 2) - 1, 1);
  const low_end = structure.hands.includes('S') ? -last : 0;
  const high_end = structure.hands.includes('P') || structure.hands.includes('C') ? last : 0;
  const beside = shown < ROWS_SHOWN ? 1 : 2;
  const wished = spot.from >= 0 ? spot.from - beside : spot.to - shown + 1 + beside;
  const low = Math.max(low_end, Math.min(wished, high_end - shown + 1));
  return { low, high: Math.min(low + shown - 1, high_end) };
}

/** y of a strake line. Seen from outside port is uppermost, seen from inside starboard. */
export function rowY(rows: RowWindow, inside: boolean, top: number, px: number, line: number) {
  return inside ? top + (line - rows.low) * px : top + (rows.high - line) * px;
}

/** Signed strake under a y: the lower line of the strake touched. */
export function rowAt(rows: RowWindow, inside: boolean, top: number, px: number, y: number) {
  const line = inside ? rows.low + (y - top) / px : rows.high - (y - top) / px;
  return Math.min(Math.max(Math.floor(line), rows.low), rows.high - 1);
}

/** Strake names of a signed row: hand and the two lines it lies between. */
export function rowPlace(structure: Structure, row: number): Pick<Place, 'hand' | 'strakes'> {
  const names = structure.strakes ?? [];
  const only = structure.hands[0] as Place['hand'];
  if (names.length < 2) return { hand: only };
  const lower = row >= 0 ? row : -row - 1;
  const pair: [string, string] = [names[lower] ?? '', names[lower + 1] ?? ''];
  const both = structure.hands.includes('P') && structure.hands.includes('S');
  return { hand: both ? (row >= 0 ? 'P' : 'S') : only, strakes: pair };
}
