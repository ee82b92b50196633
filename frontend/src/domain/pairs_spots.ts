/** Where rows lie, in 0.1 nm, and which lie near each other: sweeps along a structure. */

import { kindGroup } from './kinds';
import {
  type Definition,
  type Hand,
  handOf,
  type Place,
  type Structure,
  strakeIndexes,
  structureOf,
} from './place';
import { endTenthNm, nearestEnd, spanTenthNm } from './place_stations';
import type { DefectRow } from './projection';
import { tenthNmOrNull } from './quantities';

/** What is read of a row. */
export type PairRow = Pick<
  DefectRow,
  | 'record'
  | 'number'
  | 'place'
  | 'kind'
  | 'part'
  | 'airframe'
  | 'state'
  | 'own_state'
  | 'same_as_number'
  | 'length'
>;

/** A row with what its place says, lengths in 0.1 nm; `at` is its rank among the rows.

`beside` is what brings spots together where there are no strakes: the part as named, or the member
where no part is. */
export interface Spot {
  at: number;
  row: PairRow;
  place: Place;
  structure: Structure;
  hand: Hand;
  group: string;
  station: number;
  length: number;
  offset: number;
  strakes: readonly [number, number] | null;
  beside: readonly ['part' | 'member', string];
  /** The nearest by the definition of today; `offset` is that from it. */
  member: string;
}

export type Couple = [Spot, Spot];

/** A kilometre: no place lies further off, and plain numbers hold it exactly. */
const FURTHEST = 10 ** 13;

function plain(length: bigint): number {
  const far = Number(length);
  if (Math.abs(far) > FURTHEST) throw new RangeError('no aircraft is a kilometre long');
  return far;
}

/** Reads rows against a definition; what many rows share is asked of it once. */
export class Reader {
  private readonly kept = new Map<string, Pick<Spot, 'structure' | 'hand' | 'strakes'>>();

  constructor(private readonly definition: Definition) {}

  /** A row as a spot, or null where it has no place or nothing to be twice. */
  spot(at: number, row: PairRow): Spot | null {
    const { place, kind } = row;
    const group = kindGroup(kind) ?? kind;
    if (group === null || group === 'nil' || place === null) return null;
    try {
      const across = this.across(place);
      const [first, last] = spanTenthNm(across.structure, place).map(plain) as [number, number];
      const typed = Number(tenthNmOrNull(row.length) ?? 0n);
      const length = Math.min(Math.max(typed, last - first), FURTHEST);
      const { structure } = across;
      const { member } = nearestEnd(structure, place);
      const offset = plain(endTenthNm(structure, place) - endTenthNm(structure, { member }));
      const part = (row.part ?? '').replace(/^ +| +$/g, '').toLowerCase();
      const beside: Spot['beside'] = part ? ['part', part] : ['member', member];
      return { at, row, place, ...across, group, station: first, length, offset, beside, member };
    } catch {
      // A place may hold anything: another tablet's version, or no place at all.
      return null;
    }
  }

  private across(place: Place): Pick<Spot, 'structure' | 'hand' | 'strakes'> {
    const key = JSON.stringify([place.structure, place.hand, place.strakes ?? []]);
    let found = this.kept.get(key);
    if (found === undefined) {
      if (place.strakes != null && !Array.isArray(place.strakes)) {
        throw new TypeError('strakes are a list');
      }
      const structure = structureOf(this.definition, place);
      const strakes = strakeIndexes(structure, place);
      found = { structure, hand: handOf(structure, place), strakes };
      this.kept.set(key, found);
    }
    return found;
  }
}

/** Puts spots in order along the structure, or of their distances from a member. */
export function inOrder(bundle: readonly Spot[], along: 'station' | 'offset'): Spot[] {
  return [...bundle].sort((a, b) => a[along] - b[along] || a.at - b.at);
}

/** Each pair no further apart than half their lengths together.

Each length is laid half before and half behind its station (all doubled), and a sweep aft keeps
those that have not ended. */
export function* overlapping(bundle: readonly Spot[]): Iterable<Couple> {
  const begin = (spot: Spot) => 2 * spot.station - spot.length;
  const ordered = [...bundle].sort((a, b) => begin(a) - begin(b) || a.at - b.at);
  const running = new Heap();
  for (const spot of ordered) {
    running.dropBefore(begin(spot));
    for (const other of running.spots) yield [other, spot];
    running.push(spot);
  }
}

const end = (spot: Spot) => 2 * spot.station + spot.length;

/** Spots that have begun; the one that ends first lies at the top. */
class Heap {
  readonly spots: Spot[] = [];

  push(spot: Spot): void {
    let at = this.spots.push(spot) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (end(this.spots[above] as Spot) <= end(spot)) break;
      this.spots[at] = this.spots[above] as Spot;
      at = above;
    }
    this.spots[at] = spot;
  }

  dropBefore(begin: number): void {
    while (this.spots[0] !== undefined && end(this.spots[0]) < begin) this.drop();
  }

  private drop(): void {
    const last = this.spots.pop() as Spot;
    const size = this.spots.length;
    if (size === 0) return;
    let at = 0;
    for (;;) {
      const [left, right] = [2 * at + 1, 2 * at + 2];
      if (left >= size) break;
      const isRight =
        right < size && end(this.spots[right] as Spot) < end(this.spots[left] as Spot);
      const below = isRight ? right : left;
      if (end(this.spots[below] as Spot) >= end(last)) break;
      this.spots[at] = this.spots[below] as Spot;
      at = below;
    }
    this.spots[at] = last;
  }
}

/** Each pair no further apart than `reach`, of a bundle in order. */
export function* within(bundle: readonly Spot[], reach: number): Iterable<Couple> {
  for (const [at, spot] of bundle.entries()) {
    for (let after = at + 1; after < bundle.length; after++) {
      const other = bundle[after] as Spot;
      if (other.station > spot.station + reach) break;
      yield [spot, other];
    }
  }
}

/** Each pair of one from either side, their offsets no further apart than `reach`, in order. */
export function* across(
  some: readonly Spot[],
  others: readonly Spot[],
  reach: number,
): Iterable<Couple> {
  let begin = 0;
  for (const spot of some) {
    while ((others[begin]?.offset ?? Number.POSITIVE_INFINITY) < spot.offset - reach) begin++;
    for (let at = begin; at < others.length; at++) {
      const other = others[at] as Spot;
      if (other.offset > spot.offset + reach) break;
      yield [spot, other];
    }
  }
}
