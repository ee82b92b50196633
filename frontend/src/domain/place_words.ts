/** A place in trade notation: Hull · Port · F6 + 2.0 aft · K–B1 · inner face. */

import {
  type Definition,
  type Place,
  type PlaceEnd,
  type Structure,
  stationOf,
  structureOf,
} from './place_stations';
import { toTenthNm } from './quantities';

export const HAND_WORDS = { P: 'Port', S: 'Stbd', C: 'Centreline' } as const;
const SIDES = ['inner', 'outer', 'forward', 'aft', 'upper', 'lower', 'inboard', 'outboard'];

/** A place in trade notation; a structure with one hand does not repeat it. */
export function placeWords(definition: Definition, place: Place): string {
  const structure = structureOf(definition, place);
  const words = [
    structure.name,
    structure.hands.length > 1 ? (HAND_WORDS[place.hand] ?? place.hand) : '',
    along(structure, place),
    [...new Set((place.strakes ?? []).filter((strake) => strake != null))].join('–'),
    SIDES.includes(place.face ?? '') ? `${place.face} face` : (place.face ?? ''),
    place.precision === 'bay only' ? 'bay only' : '',
  ];
  return words.filter((word) => word !== '').join(' · ');
}

/** The station of a place with its axis: "Sta 72.0". */
export function stationWords(definition: Definition, place: Place): string {
  return `${structureOf(definition, place).axis} ${stationOf(definition, place).value}`;
}

// Of a place known by its bay only the middle of the bay is kept, which nobody measured.
function along(structure: Structure, place: Place): string {
  if (place.to) return `${end(structure, place)} to ${end(structure, place.to)}`;
  return place.precision === 'bay only' ? place.member : end(structure, place);
}

function end(structure: Structure, { member, offset }: PlaceEnd): string {
  const distance = offset ? toTenthNm(offset) : 0n;
  if (!offset || distance === 0n) return member;
  const unit = offset.unit === structure.unit ? '' : ` ${offset.unit}`;
  if (distance < 0n) return `${member} − ${offset.value.replace(/^-+/, '')}${unit}`;
  return `${member} + ${offset.value}${unit} ${structure.positive}`;
}
