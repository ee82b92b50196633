import type { DefectRow, Definition, Json, Place } from '../../services/shop';
import type { Along } from './along';
import { facesOf } from './cells';
import { type Structure, strakeIndexes } from './window';

/** The bay a place lies in, over the strakes of its plating: what one look takes in. */
export interface Bay {
  structure: string;
  hand: string;
  bay: [string, string];
  strakes: [string, string] | null;
  /** Of a structure whose faces are looked at one by one, the face. */
  face?: string;
}

/** The whole bay round a place; null at the last member, and on the centreline between two hands. */
export function bayOf(structure: Structure, place: Place): Bay | null {
  if (place.hand === 'C' && structure.hands.length > 1) return null;
  const at = structure.members.findIndex((one) => one.name === place.member);
  const next = structure.members[at + 1];
  if (at < 0 || !next) return null;
  return {
    structure: structure.name,
    hand: place.hand,
    bay: [place.member, next.name],
    strakes: platingStrakes(structure, place),
    ...faceOf(structure, place),
  };
}

/** A cell of a structure without strakes is one of its faces. */
function faceOf(structure: Structure, { face }: Place): { face?: string } {
  return facesOf(structure).length > 0 && face ? { face } : {};
}

function platingStrakes(structure: Structure, place: Place): [string, string] | null {
  const names = structure.strakes ?? [];
  if (names.length < 2) return null;
  const [index] = strakeIndexes(structure, place);
  const plate = structure.plating?.find(
    (one) => one.strakes && index >= one.strakes[0] && index < one.strakes[1],
  );
  const [from, to] = plate?.strakes ?? [0, names.length - 1];
  return [names[from] ?? '', names[Math.min(to, names.length - 1)] ?? ''];
}

/** Why a place has no bay to look at. */
export function noBayWords(structure: Structure, place: Place): string {
  const between = place.hand === 'C' && structure.hands.length > 1;
  return between ? 'choose port or starboard' : `no bay ${structure.positive} of here`;
}

/** "F6–F7 port, K–C". */
export function bayWords(bay: Bay): string {
  const hand = bay.hand === 'P' ? ' port' : bay.hand === 'S' ? ' starboard' : '';
  const strakes = bay.strakes ? `, ${bay.strakes.join('–')}` : '';
  const face = bay.face ? `, ${bay.face}` : '';
  return `${bay.bay.join('–')}${hand}${strakes}${face}`;
}

/** As a coverage record holds it. */
export function cellValue(bay: Bay): Json {
  const { strakes, ...rest } = bay;
  return { ...rest, bay: [...bay.bay], ...(strakes ? { strakes: [...strakes] } : {}) };
}

/** The bay over all its strakes as the drawing has it: stations, and signed strake lines. */
export function signedFor(structure: Structure, bay: Bay) {
  const names = structure.strakes ?? [];
  const [first, last] = bay.strakes ? bay.strakes.map((name) => names.indexOf(name)) : [0, 1];
  const [from, to] = bay.bay.map((name) =>
    Number(structure.members.find((one) => one.name === name)?.station),
  );
  const [low, high] =
    bay.hand === 'S' ? [0 - (last ?? 0), 0 - (first ?? 0)] : [first ?? 0, last ?? 0];
  return { from: from ?? 0, to: to ?? 0, low, high };
}

const OPEN = ['Draft', 'Raised', 'Assessed', 'In work', 'Offered', 'Deferred'];

/** Records between the members of a bay, on either hand. */
export function rowsIn(along: Along, structure: Structure, bay: Bay | null): DefectRow[] {
  const station = (name: string) =>
    Number(structure.members.find((one) => one.name === name)?.station ?? Number.NaN);
  return bay ? along.between(station(bay.bay[0]), station(bay.bay[1])) : [];
}

/** Records still open in a bay, on its hand. */
export function openIn(bay: Bay, rows: DefectRow[], definition: Definition): DefectRow[] {
  return foundIn(bay, rows, definition).filter((row) => OPEN.includes(row.state ?? ''));
}

/** Every record of a bay, on its hand, those cleared too; what was raised in error is none. */
export function foundIn(bay: Bay, rows: DefectRow[], definition: Definition): DefectRow[] {
  const structure = definition.structures.find((one) => one.name === bay.structure);
  const station = (name: string) =>
    Number(structure?.members.find((one) => one.name === name)?.station ?? Number.NaN);
  const [from, to] = [station(bay.bay[0]), station(bay.bay[1])];
  return rows.filter(
    (row) =>
      row.structure === bay.structure &&
      row.hand === bay.hand &&
      row.state !== 'Raised in error' &&
      Number(row.station) >= from &&
      Number(row.station) < to,
  );
}
