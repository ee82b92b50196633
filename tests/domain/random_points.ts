/**
 * Points on an airframe drawn by a chance that both languages have: the same seed, the same points.
 * The generator is the linear congruential one of Numerical Recipes (1664525, 1013904223, 2^32).
 */

import {
  atStation,
  type Definition,
  type Hand,
  type Place,
  type Structure,
} from '../../frontend/src/domain/place';
import { inTenthNm, membersInOrder } from '../../frontend/src/domain/place_stations';
import { TENTH_NM } from '../../frontend/src/domain/quantities';

export const POINTS = 10_000;

/** Whole numbers from a seed, each from 0 up to a limit that is below 2^24. */
function chanceFrom(seed: number): (limit: number) => number {
  let now = seed;
  return (limit) => {
    now = (Math.imul(now, 1664525) + 1013904223) >>> 0;
    return (now >>> 8) % limit;
  };
}

/**
 * Places from the first member of a structure to its last, to a thousandth of the unit. Every
 * fourth lies exactly on a member or on the edge of a zone.
 */
export function pointsOn(definition: Definition, seed: number, count = POINTS): Place[] {
  const below = chanceFrom(seed);
  return Array.from({ length: count }, () => {
    const structure = definition.structures[below(definition.structures.length)] as Structure;
    const hand = structure.hands[below(structure.hands.length)] as Hand;
    const place = { structure: structure.name, hand, ...along(definition, structure, below) };
    const { strakes } = structure;
    if (strakes.length === 0) return place;
    const low = below(strakes.length);
    const high = Math.min(low + below(3), strakes.length - 1);
    return { ...place, strakes: [strakes[low] as string, strakes[high] as string] };
  });
}

function along(definition: Definition, structure: Structure, below: (limit: number) => number) {
  const { stations, members } = membersInOrder(structure);
  const [first, last] = [stations[0] as bigint, stations.at(-1) as bigint];
  const zones = definition.zones.filter((zone) => zone.structure === structure.name);
  const ends: (string | null)[] = zones.flatMap((zone) => zone.along ?? []);
  const edges = ends.filter((edge) => edge !== null);
  const tops = [...members.map((member) => member.station), ...edges]
    .map((edge) => inTenthNm(structure, edge))
    .filter((edge) => first <= edge && edge <= last);
  const step = TENTH_NM[structure.unit] / 1000n;
  const steps = Number((last - first) / step) + 1;
  const station =
    below(4) === 0 ? (tops[below(tops.length)] as bigint) : first + BigInt(below(steps)) * step;
  return atStation(structure, station, 3);
}
