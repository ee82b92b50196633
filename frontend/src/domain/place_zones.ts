/** Zones and cells: rules on structure, hand, station and strakes. A boundary belongs aft. */

import { Refused } from './errors';
import {
  bayAt,
  type Definition,
  type Hand,
  inTenthNm,
  membersInOrder,
  type Place,
  type Structure,
  spanTenthNm,
  structureOf,
  type Zone,
} from './place_stations';

/** Asked for in a zone's place: what lies off the aircraft, or where no zone is any more. */
export const NO_ZONE = 'none';

const HANDS: Record<string, string> = { P: 'port', S: 'starboard', C: 'centreline' };

export interface Cell {
  structure: string;
  hand: Hand;
  /** A bay that is open at an end of the structure has null for the member it lacks. */
  bay: [string | null, string | null];
  strakes?: string[];
  face?: string;
}

/** The lower and upper strake of a place, or null where it names none. */
export function strakeIndexes(structure: Structure, place: Place): [number, number] | null {
  const named = (place.strakes ?? []).filter((strake) => strake != null);
  const missing = named.find((strake) => !structure.strakes.includes(strake));
  if (missing !== undefined) {
    const message = `${structure.name} has no strake called ${missing}.`;
    throw new Refused('no_strake', message, `It has ${structure.strakes.join(', ') || 'none'}.`);
  }
  if (named.length === 0) return null;
  const indexes = named.map((strake) => structure.strakes.indexOf(strake));
  return [Math.min(...indexes), Math.max(...indexes)];
}

/** The hand of a place: what touches the keel line only is on the centreline. */
export function handOf(structure: Structure, place: Place): Hand {
  if (!structure.hands.includes(place.hand)) {
    const words = structure.hands.map((known) => HANDS[known]).join(', ');
    const message = `${structure.name} has no hand ${HANDS[place.hand] ?? place.hand}.`;
    throw new Refused('no_hand', message, `It has ${words}.`);
  }
  const onKeel = strakeIndexes(structure, place)?.[1] === 0;
  return onKeel && structure.hands.includes('C') ? 'C' : place.hand;
}

/**
 * The zone of a place's forward or inboard end. A record on two strakes counts by the lower one,
 * so B3–C lies below the chine and C–S1 above. Refused outside every zone, in more than one, or
 * where the strakes are needed and not given.
 */
export function zoneOf(definition: Definition, place: Place): string {
  const structure = structureOf(definition, place);
  const [station] = spanTenthNm(structure, place);
  const zones = rulesFor(definition, structure, place).filter((zone) =>
    holds(structure, zone, station),
  );
  const names = [...new Set(zones.map((zone) => zone.zone))];
  if (names.length === 1) return names[0] as string;
  throw refusal(structure, place, names);
}

function refusal(structure: Structure, place: Place, names: string[]): Refused {
  const named = `${structure.name}, ${HANDS[place.hand] ?? place.hand}, ${place.member}`;
  if (names.length === 0) {
    const message = `${named} is outside the airframe: no zone has it.`;
    return new Refused('outside_airframe', message, 'Look at hand, member and distance again.');
  }
  if (strakeIndexes(structure, place) === null && structure.strakes.length > 0) {
    const message = `${named} may be in zone ${names.join(' or ')}.`;
    return new Refused('strakes_needed', message, 'Say between which strakes it is.');
  }
  const message = `${named} is in ${names.length} zones: ${names.join(', ')}.`;
  return new Refused('zones_overlap', message, 'Mend the zones of the airframe definition.');
}

/** The zones that a place from one end to the other runs through, its own first. */
export function zonesOf(definition: Definition, place: Place): string[] {
  const own = zoneOf(definition, place);
  const structure = structureOf(definition, place);
  const [first, last] = spanTenthNm(structure, place);
  const through = rulesFor(definition, structure, place).filter((zone) =>
    holds(structure, zone, first, last),
  );
  return [...new Set([own, ...through.map((zone) => zone.zone)])];
}

function rulesFor(definition: Definition, structure: Structure, place: Place): Zone[] {
  const hand = handOf(structure, place);
  const lower = strakeIndexes(structure, place)?.[0];
  return definition.zones.filter(
    (zone) =>
      zone.structure === structure.name &&
      (zone.hand == null || zone.hand === hand) &&
      (!zone.strakes ||
        lower === undefined ||
        (zone.strakes[0] <= lower && lower < zone.strakes[1])),
  );
}

function holds(structure: Structure, zone: Zone, station: bigint, last?: bigint): boolean {
  const [begin, end] = zone.along ?? [null, null];
  const reached = last !== undefined && last - 1n > station ? last - 1n : station;
  return (
    (begin == null || inTenthNm(structure, begin) <= reached) &&
    (end == null || station < inTenthNm(structure, end))
  );
}

/** The cell a place lies in: bay and strake, or bay and face where there are no strakes. */
export function cellOf(definition: Definition, place: Place): Cell {
  const structure = structureOf(definition, place);
  const at = bayAt(structure, spanTenthNm(structure, place)[0]);
  const { members } = membersInOrder(structure);
  const bay: Cell['bay'] = [members[at]?.name ?? null, members[at + 1]?.name ?? null];
  const cell: Cell = { structure: structure.name, hand: handOf(structure, place), bay };
  const strakes = strakeIndexes(structure, place);
  if (strakes !== null) {
    const lower = Math.min(strakes[0], structure.strakes.length - 2);
    return { ...cell, strakes: structure.strakes.slice(lower, lower + 2) };
  }
  return place.face ? { ...cell, face: place.face } : cell;
}

/** The major zone and sub-zone of a zone number: 321 lies in 320 and 300. */
export function zoneParts(zone: string): { major: string; sub_zone: string; zone: string } {
  if (!/^[1-9][0-9]{2}$/.test(zone)) {
    const message = `“${zone}” is no zone number.`;
    throw new Refused('not_a_zone', message, 'Zones have three digits, 100 to 999.');
  }
  return { major: `${zone[0]}00`, sub_zone: `${zone.slice(0, 2)}0`, zone };
}
