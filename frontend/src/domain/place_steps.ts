/** Steps from a place to its neighbour: one bay, one strake. What can't be has its reason. */

import {
  bayAt,
  type Definition,
  type Member,
  membersInOrder,
  type Place,
  spanTenthNm,
  structureOf,
} from './place_stations';
import { handOf, strakeIndexes } from './place_zones';

const STRAKE_WORDS: Record<string, string> = {
  K: 'the keel',
  C: 'the chine',
  G: 'the gunwale',
  CL: 'the deck centreline',
};

/** The place a step leads to, or the reason why there is none. */
export interface Step {
  place: Place | null;
  reason: string;
}

const to = (place: Place): Step => ({ place, reason: '' });
const stopped = (reason: string): Step => ({ place: null, reason });
const atStrake = (strake = ''): Step => stopped(`at ${STRAKE_WORDS[strake] ?? strake}`);

/** The next bay aft or outboard (+1), or forward or inboard (-1). */
export function stepBay(definition: Definition, place: Place, step: 1 | -1): Step {
  const structure = structureOf(definition, place);
  const { members } = membersInOrder(structure);
  const at = Math.max(bayAt(structure, spanTenthNm(structure, place)[0]), 0);
  const next = members[at + step];
  if (!next) return stopped(`at ${(members[at] as Member).name}`);
  const { to: _other, ...kept } = place;
  return to({ ...kept, member: next.name, offset: { value: '0.0', unit: structure.unit } });
}

/** The next strake up from the keel (+1) or down to it (-1). */
export function stepStrake(definition: Definition, place: Place, step: 1 | -1): Step {
  const structure = structureOf(definition, place);
  const names = structure.strakes;
  if (names.length === 0) return stopped('no strakes here');
  const strakes = strakeIndexes(structure, place);
  if (strakes === null) return to({ ...place, strakes: names.slice(0, 2) });
  const [lower, upper] = [strakes[0] + step, strakes[1] + step];
  if (lower < 0) return atStrake(names[0]);
  if (upper >= names.length) return atStrake(names.at(-1));
  if (handOf(structure, place) === 'C') return stopped('choose port or starboard');
  return to({ ...place, strakes: [names[lower] as string, names[upper] as string] });
}
