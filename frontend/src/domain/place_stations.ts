/** Structures, their members, and the station of a place. */

import { Refused } from './errors';
import {
  placesOf,
  type Quantity,
  roundedText,
  scaled,
  TENTH_NM,
  toTenthNm,
  type Unit,
} from './quantities';

export type Hand = 'P' | 'S' | 'C';

export interface Member {
  name: string;
  kind: string;
  station: string;
  main?: boolean;
  thickness?: string;
  added?: 'original' | 'by repair';
  /** Station at the upper edge of a canted member; places go by the lower one. */
  upper_station?: string;
  /** What the maker's book prints where it is no plain number. */
  written?: string;
}

export interface Plating {
  strakes?: [number, number];
  thickness: string;
  part: string;
  material: string;
}

export interface Structure {
  name: string;
  axis: string;
  unit: Unit;
  datum: string;
  positive: string;
  hands: Hand[];
  members: Member[];
  strakes: string[];
  /** The same lines, where they are stringers counted from the crown. */
  stringers?: string[];
  plating: Plating[];
  parts?: { part: string; thickness: string; material: string }[];
  faces: string[];
}

export interface Zone {
  zone: string;
  title: string;
  structure: string;
  hand?: Hand | null;
  along?: [string | null, string | null] | null;
  strakes?: [number, number] | null;
  cells?: number;
  access?: { name: string; kind: 'panel' | 'floor' | 'hatch'; fixings?: number }[];
  confined?: boolean;
}

export interface ViewLine {
  points: [number, number][];
  weight: 'thin' | 'medium' | 'thick';
  kind: 'full' | 'hidden' | 'chain';
  closed?: boolean;
}

/** A point touched on a picture: its pixel, and where it is, along and second axis. */
export interface TouchedPoint {
  px: [number, number];
  at: [number, number];
}

export interface Calibration {
  method: 'similarity' | 'affine' | 'homography';
  /** (along, second, 1) to pixels, row by row; numbers or their texts. */
  to_picture: (number | string)[];
  points: TouchedPoint[];
  check?: TouchedPoint;
  rms?: number | string;
  check_error?: number | string | null;
  span?: number | string;
  limit_percent?: number;
  /** Names of the strakes that the second axis counts. */
  strakes?: string[];
  by?: string;
  date?: string;
}

export interface Picture {
  sha256: string;
  media_type: string;
  width_px: number;
  height_px: number;
  size_bytes?: number;
}

/** What a view with a picture has; one without `lines` has nothing of what a drawn one has. */
export interface PictureView {
  name: string;
  title: string;
  structure: string;
  hand?: Hand;
  seen_from?: string;
  forward?: View['forward'];
  sheet?: string;
  issue?: string;
  picture: Picture;
  second: 'water line' | 'strake';
  calibration: Calibration;
}

export interface View extends Partial<Pick<PictureView, 'hand' | 'sheet' | 'issue'>> {
  name: string;
  title: string;
  structure: string;
  seen_from: string;
  /** Where the nose lies on the drawing; to the left where nothing is said. */
  forward?: 'left' | 'right' | 'up' | 'down' | 'towards you' | 'away from you';
  box: [number, number];
  x: { origin: number; per_unit: number };
  y: { origin: number; per_strake?: number; per_unit?: number };
  lines: ViewLine[];
  labels: { x: number; y: number; text: string; anchor?: string }[];
  /** With these the view is a picture, and may have no lines: `drawnViews` leaves such out. */
  picture?: Picture;
  second?: 'water line' | 'strake';
  calibration?: Calibration;
}

export interface ProfileHeight {
  member?: string;
  station: string;
  keel: string;
  chine: string;
  gunwale: string;
  deck: string;
}

export interface Definition {
  name: string;
  constructor: string;
  issue: string;
  unit: Unit;
  structures: Structure[];
  zones: Zone[];
  views: View[];
  profile_heights?: ProfileHeight[];
  off_aircraft?: { name: string }[];
  replaces?: string;
}

/** One end of a place: a member and how far aft or outboard of it. */
export interface PlaceEnd {
  member: string;
  offset?: Quantity;
}

export interface Place extends PlaceEnd {
  offset: Quantity;
  structure: string;
  hand: Hand;
  to?: PlaceEnd;
  strakes?: string[];
  face?: string;
  /** Depth in the stack, counted from the outer face: 1 is the outer sheet. */
  layer?: number;
  precision?: 'exact' | 'bay only';
  /** A place off the aircraft has this and a part, and neither structure nor member. */
  off?: string;
  part?: string;
  marking?: string;
}

const MIXED_UNIT_PLACES = 3;
const NUMBER = /^[+-]?[0-9]*\.?[0-9]+$/;
// What either language takes for white space, save the line feed, which parts a place.
const SPACES =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: Python takes U+001C to U+001F for space.
  /[\t\x0b-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\ufeff]/g;
const REST = /^\s*(?:([+-])\s*([0-9]*\.?[0-9]+))?$/;

/** The structure a place or a view is on. */
export function structureOf(definition: Definition, place: { structure: string }): Structure {
  const structure = definition.structures.find((one) => one.name === place.structure);
  if (structure) return structure;
  const names = definition.structures.map((one) => one.name).join(', ');
  const message = `${definition.name} has no structure called ${place.structure}.`;
  throw new Refused('no_structure', message, `It has ${names}.`);
}

/** A member by its name, which is never read as a figure: 340B is a name. */
export function memberOf(structure: Structure, name: string): Member {
  const member = byName(structure).get(name);
  if (member) return member;
  const [first, last] = [structure.members[0]?.name, structure.members.at(-1)?.name];
  const message = `${structure.name} has no member called ${name}.`;
  throw new Refused('no_member', message, `It has ${first} to ${last}.`);
}

const named = new WeakMap<Structure, Map<string, Member>>();

/** The members by name, of two that share one the first; kept for a structure once seen. */
function byName(structure: Structure): Map<string, Member> {
  const kept = named.get(structure);
  if (kept) return kept;
  const made = new Map([...structure.members].reverse().map((one) => [one.name, one]));
  named.set(structure, made);
  return made;
}

/** A station, decimal text in the structure's unit, in 0.1 nm. */
export function inTenthNm(structure: Structure, station: string): bigint {
  return toTenthNm({ value: station, unit: structure.unit });
}

interface Ordered {
  stations: bigint[];
  members: Member[];
}

const ordered = new WeakMap<Structure, Ordered>();

/** The stations in 0.1 nm and the members, by station; kept for a structure once seen. */
export function membersInOrder(structure: Structure): Ordered {
  const kept = ordered.get(structure);
  if (kept) return kept;
  const pairs = structure.members.map((row) => ({ row, at: inTenthNm(structure, row.station) }));
  pairs.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
  const made = { stations: pairs.map((pair) => pair.at), members: pairs.map((pair) => pair.row) };
  ordered.set(structure, made);
  return made;
}

/** Index of the member a station (0.1 nm) lies at or after; -1 before the first. */
export function bayAt(structure: Structure, station: bigint): number {
  const { stations } = membersInOrder(structure);
  let low = 0;
  let high = stations.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (station < (stations[middle] as bigint)) high = middle;
    else low = middle + 1;
  }
  return low - 1;
}

/** The member at or before a station (decimal text), or null before the first. */
export function memberBefore(structure: Structure, station: string): Member | null {
  return membersInOrder(structure).members[bayAt(structure, inTenthNm(structure, station))] ?? null;
}

/** The station in 0.1 nm of one end of a place: member + offset. */
export function endTenthNm(structure: Structure, end: PlaceEnd): bigint {
  const station = inTenthNm(structure, memberOf(structure, end.member).station);
  return end.offset == null ? station : station + toTenthNm(end.offset);
}

/** The stations of a place from its forward or inboard end to its other end. */
export function spanTenthNm(structure: Structure, place: Place): [bigint, bigint] {
  const first = endTenthNm(structure, place);
  const last = place.to ? endTenthNm(structure, place.to) : first;
  return first <= last ? [first, last] : [last, first];
}

/** The station of a place's forward or inboard end, in the structure's unit. */
export function stationOf(definition: Definition, place: Place): Quantity {
  const structure = structureOf(definition, place);
  const [forward] = spanTenthNm(structure, place);
  const end = place.to && forward !== endTenthNm(structure, place) ? place.to : place;
  const { station } = memberOf(structure, end.member);
  let places = Math.max(placesOf(station), placesOf(end.offset?.value ?? '0'));
  if (end.offset && end.offset.unit !== structure.unit) {
    places = Math.max(places, MIXED_UNIT_PLACES);
  }
  return { value: roundedText(forward, TENTH_NM[structure.unit], places), unit: structure.unit };
}

/** Member and offset of a station in 0.1 nm; before the first member less than nought. */
export function atStation(
  structure: Structure,
  station: bigint,
  places = 1,
): { member: string; offset: Quantity } {
  const { stations, members } = membersInOrder(structure);
  const at = Math.max(bayAt(structure, station), 0);
  const past = station - (stations[at] as bigint);
  const value = roundedText(past, TENTH_NM[structure.unit], places);
  return { member: (members[at] as Member).name, offset: { value, unit: structure.unit } };
}

/**
 * An end of a place by the member that stands at or before it; as entered while that is the one
 * named. By another issue of the definition F6 + 15.0 may read F6N + 5.0.
 */
export function nearestEnd(structure: Structure, end: PlaceEnd): PlaceEnd {
  const { stations, members } = membersInOrder(structure);
  const member = memberOf(structure, end.member);
  const station = endTenthNm(structure, end);
  const at = Math.max(bayAt(structure, station), 0);
  const nearest = members[at] as Member;
  if (nearest === member) return end;
  const { value, unit } = end.offset ?? { value: '0', unit: structure.unit };
  const figures = [member.station, nearest.station, value].map(placesOf);
  const places = Math.max(...figures, unit === structure.unit ? 0 : MIXED_UNIT_PLACES);
  const past = roundedText(station - (stations[at] as bigint), TENTH_NM[structure.unit], places);
  return { member: nearest.name, offset: { value: past, unit: structure.unit } };
}

/**
 * The last member of a place known by its bay only; null where that is the next one. Its offset is
 * the middle of the bay as it was entered; frames put in since make it several bays.
 */
export function bayEnd(structure: Structure, place: PlaceEnd): Member | null {
  const begin = endTenthNm(structure, { member: place.member });
  const half = place.offset == null ? 0n : toTenthNm(place.offset);
  const first = bayAt(structure, begin);
  // The middle of a bay is kept to a thousandth, so its end is known to two of them.
  const last = bayAt(structure, begin + 2n * half + TENTH_NM[structure.unit] / 500n);
  return last > first + 1 ? (membersInOrder(structure).members[last] as Member) : null;
}

/** A typed text with every kind of white space as a space, a line feed as it is. */
export const plainSpaces = (text: string): string => text.replace(SPACES, ' ');

/**
 * Member and offset of a position as people type it: "F6 + 2.0", "340B + 10.25", "Sta 72", "72.0".
 * A member's name never counts as a figure, so 340B + 10.25 is 10.25 past 340B and not 350.25.
 */
export function readPosition(
  structure: Structure,
  text: string,
): { member: string; offset: Quantity } {
  const typed = plainSpaces(text).trim().replaceAll('\u2212', '-').replaceAll(',', '.');
  const bare = withoutAxis(structure, typed);
  const names = structure.members.map((row) => [row.name, row.name] as const);
  for (const { written, name } of structure.members) if (written) names.push([written, name]);
  for (const [written, name] of names.sort((a, b) => b[0].length - a[0].length)) {
    const rest = after(typed, written) ?? after(bare, written);
    if (rest !== null) return { member: name, offset: { value: rest, unit: structure.unit } };
  }
  const station = bare.replace(/^\++/, '');
  if (NUMBER.test(bare) && scaled(station, TENTH_NM[structure.unit]) !== null) {
    return atStation(structure, inTenthNm(structure, station), Math.max(placesOf(bare), 1));
  }
  throw new Refused(
    'no_position',
    `“${text}” is no position on ${structure.name}.`,
    `Type a member and a distance, such as ${structure.members[0]?.name} + 2.0.`,
  );
}

function withoutAxis(structure: Structure, typed: string): string {
  const lower = typed.toLowerCase();
  const axis = [structure.axis, 'FS', 'Sta'].find((one) =>
    lower.startsWith(`${one.toLowerCase()} `),
  );
  return axis === undefined ? typed : typed.slice(axis.length).trim();
}

function after(typed: string, name: string): string | null {
  if (!typed.toLowerCase().startsWith(name.toLowerCase())) return null;
  const found = REST.exec(typed.slice(name.length));
  if (!found) return null;
  return found[2] ? (found[1] === '-' ? '-' : '') + found[2] : '0.0';
}
