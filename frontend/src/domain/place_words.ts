/** A place in trade notation: Hull · Port · F6 + 2.0 aft · K–B1 · inner face. */

import {
  bayEnd,
  type Definition,
  nearestEnd,
  type Place,
  type PlaceEnd,
  type Structure,
  stationOf,
  structureOf,
} from './place_stations';
import { toTenthNm } from './quantities';

export const HAND_WORDS = { P: 'Port', S: 'Stbd', C: 'Centreline' } as const;
const GONE = '(no longer in the definition)';
const SIDES = ['inner', 'outer', 'forward', 'aft', 'upper', 'lower', 'inboard', 'outboard'];

/**
 * A place in trade notation by the nearest member; a structure with one hand does not repeat it.
 * What lies off the aircraft reads "off aircraft, Bench 2 · Strut, port".
 */
export function placeWords(definition: Definition, place: Place): string {
  if (isOff(place)) return offWords(place);
  const structure = structureOf(definition, place);
  const words = [
    structure.name,
    structure.hands.length > 1 ? (HAND_WORDS[place.hand] ?? place.hand) : '',
    hasAll(structure, place) ? along(structure, place) : gone(structure, place),
    [...new Set((place.strakes ?? []).filter((strake) => strake != null))].join('–'),
    SIDES.includes(place.face ?? '') ? `${place.face} face` : (place.face ?? ''),
    Number.isInteger(place.layer) ? `sheet ${place.layer}` : '',
    place.precision === 'bay only' ? 'bay only' : '',
  ];
  return words.filter((word) => word !== '').join(' · ');
}

const isText = (value: unknown): value is string => typeof value === 'string' && value !== '';

/** Whether a place lies off the aircraft: on a bench, with neither station nor zone. */
export function isOff(place: Pick<Place, 'off'>): boolean {
  return isText(place.off);
}

/** Whether a place names a member that its structure has not: its station is not known. */
export function isGone(definition: Definition, place: Place): boolean {
  return !isOff(place) && !hasAll(structureOf(definition, place), place);
}

const has = ({ members }: Structure, name: unknown) => members.some((one) => one.name === name);

function hasAll(structure: Structure, place: Place): boolean {
  const names = [place.member, place.to?.member];
  return names.every((name) => typeof name !== 'string' || has(structure, name));
}

// As it was entered, the members that the structure has not marked.
function gone(structure: Structure, place: Place): string {
  const marked = <End extends PlaceEnd>(one: End): End =>
    has(structure, one.member) ? one : { ...one, member: `${one.member} ${GONE}` };
  const ends = place.to ? { ...marked(place), to: marked(place.to) } : marked(place);
  return along(structure, ends, true);
}

/** A place off the aircraft, whatever the definition. */
export function offWords(place: Place): string {
  const [part, marking] = [place.part, place.marking].map((one) => (isText(one) ? one : ''));
  const words = [`off aircraft, ${place.off}`, part, marking && `marked ${marking}`];
  return words.filter((word) => word).join(' · ');
}

/** The station of a place with its axis: "Sta 72.0". */
export function stationWords(definition: Definition, place: Place): string {
  return `${structureOf(definition, place).axis} ${stationOf(definition, place).value}`;
}

/** The position of a place as it was entered, "" where it reads so today: "F6 + 15.0 aft". */
export function enteredWords(definition: Definition, place: Place): string {
  if (isOff(place)) return '';
  const structure = structureOf(definition, place);
  if (!hasAll(structure, place)) return '';
  const words = along(structure, place, true);
  return words === along(structure, place) ? '' : words;
}

// Of a place known by its bay only the middle of the bay is kept, which nobody measured.
function along(structure: Structure, place: Place, asEntered = false): string {
  const words = (one: PlaceEnd) => end(structure, asEntered ? one : nearestEnd(structure, one));
  if (place.to) return `${words(place)} to ${words(place.to)}`;
  if (place.precision !== 'bay only') return words(place);
  const last = asEntered ? null : bayEnd(structure, place);
  return last ? `${place.member} to ${last.name}` : place.member;
}

function end(structure: Structure, { member, offset }: PlaceEnd): string {
  const distance = offset ? toTenthNm(offset) : 0n;
  if (!offset || distance === 0n) return member;
  const unit = offset.unit === structure.unit ? '' : ` ${offset.unit}`;
  if (distance < 0n) return `${member} − ${offset.value.replace(/^-+/, '')}${unit}`;
  return `${member} + ${offset.value}${unit} ${structure.positive}`;
}
