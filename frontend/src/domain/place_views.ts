/** Places on drawings: a touched point as a place, and a place as a point. */

import { Refused } from './errors';
import {
  atStation,
  type Definition,
  type Hand,
  type Place,
  type ProfileHeight,
  type Structure,
  spanTenthNm,
  structureOf,
  type View,
} from './place_stations';
import { strakeIndexes } from './place_zones';
import { TENTH_NM } from './quantities';

// A touch is read to a tenth of the unit.
const TOUCH_STEPS = 10;
// How far beyond the outermost strake a touch still means it.
const SLACK = 0.5;

/** The point of a place on a view; x lies exactly on its station. */
export function viewPoint(view: View, definition: Definition, place: Place): [number, number] {
  const structure = structureOf(definition, place);
  const station = Number(spanTenthNm(structure, place)[0]) / Number(TENTH_NM[structure.unit]);
  const x = view.x.origin + view.x.per_unit * station;
  const [lower, upper] = strakeIndexes(structure, place) ?? [0, structure.strakes.length ? 1 : 0];
  const line = (lower + upper) / 2;
  if (view.y.per_strake !== undefined) {
    return [x, view.y.origin + sideOf(view, place.hand) * view.y.per_strake * line];
  }
  const height = heightAt(heightsAt(definition, station), cornersOf(structure), line);
  return [x, view.y.origin + (view.y.per_unit ?? 0) * height];
}

/**
 * The place under a point of a view, to a tenth of the unit along. `hand` is used where a view
 * shows one hand of several; where it shows both, the point tells. "C" asks for the keel line.
 */
export function placeAt(
  view: View,
  definition: Definition,
  x: number,
  y: number,
  hand: Hand | null = null,
): Place {
  const structure = structureOf(definition, view);
  const steps = Math.floor(((x - view.x.origin) / view.x.per_unit) * TOUCH_STEPS + 0.5);
  const step = TENTH_NM[structure.unit] / BigInt(TOUCH_STEPS);
  const place = { structure: structure.name, ...atStation(structure, BigInt(steps) * step) };
  const own = structure.hands[0] as Hand;
  if (structure.strakes.length === 0) {
    const chosen = hand !== null && structure.hands.includes(hand) ? hand : own;
    return { ...place, hand: chosen, precision: 'exact' };
  }
  if (hand === 'C') {
    const keel = structure.strakes[0] as string;
    return { ...place, hand: 'C', strakes: [keel, keel], precision: 'exact' };
  }
  const [line, side] = lineAt(view, definition, structure, steps / TOUCH_STEPS, y, hand);
  const lower = strakeUnder(structure, line);
  const strakes = structure.strakes.slice(lower, lower + 2);
  return { ...place, hand: side, strakes, precision: 'exact' };
}

/** Which way strakes run on a view: seen from outside, port lies uppermost. */
function sideOf(view: View, hand: Hand): number {
  const towards = hand === 'P' ? -1 : 1;
  return view.seen_from === 'inside' ? -towards : towards;
}

function lineAt(
  view: View,
  definition: Definition,
  structure: Structure,
  station: number,
  y: number,
  hand: Hand | null,
): [number, Hand] {
  if (view.y.per_strake !== undefined) {
    const line = (y - view.y.origin) / view.y.per_strake;
    return [Math.abs(line), line * sideOf(view, 'P') >= 0 ? 'P' : 'S'];
  }
  const height = (y - view.y.origin) / (view.y.per_unit ?? 1);
  const line = lineOfHeight(heightsAt(definition, station), cornersOf(structure), height);
  return [line, hand === 'S' ? 'S' : 'P'];
}

function strakeUnder(structure: Structure, line: number): number {
  const last = structure.strakes.length - 1;
  if (line >= -SLACK && line <= last + SLACK) {
    return Math.min(Math.max(Math.trunc(line), 0), last - 1);
  }
  throw new Refused(
    'outside_airframe',
    `The point touched is outside ${structure.name}.`,
    'Touch the drawing between its first and last strake.',
  );
}

type Four = [number, number, number, number];

/** The strake lines at keel, chine, gunwale and deck. */
function cornersOf({ strakes }: Structure): Four {
  const last = strakes.length - 1;
  const named = (name: string, otherwise: number) =>
    strakes.includes(name) ? strakes.indexOf(name) : Math.floor(otherwise);
  const chine = named('C', last / 3);
  return [0, chine, named('G', (chine + last + 1) / 2), last];
}

/**
 * The heights of keel, chine, gunwale and deck at a station, straight between frames. Where two
 * rows have one station, a step, the aft one counts from there on.
 */
function heightsAt(definition: Definition, station: number): Four {
  const rows = definition.profile_heights ?? [];
  const found = rows.findIndex((row) => Number(row.station) > station);
  const next = found < 0 ? rows.length : found;
  const first = rows[Math.max(next - 1, 0)] as ProfileHeight;
  const second = rows[Math.min(next, rows.length - 1)] as ProfileHeight;
  const span = Number(second.station) - Number(first.station);
  const share = span === 0 ? 0 : (station - Number(first.station)) / span;
  const at = (name: 'keel' | 'chine' | 'gunwale' | 'deck') =>
    Number(first[name]) + (Number(second[name]) - Number(first[name])) * share;
  return [at('keel'), at('chine'), at('gunwale'), at('deck')];
}

const SPANS = [0, 1, 2] as const;

function heightAt(heights: Four, corners: Four, line: number): number {
  let height = heights[0];
  for (const at of SPANS) {
    const [from, to] = [corners[at], corners[at + 1] as number];
    const share = to > from ? Math.min(Math.max(line - from, 0) / (to - from), 1) : 0;
    height += ((heights[at + 1] as number) - heights[at]) * share;
  }
  return height;
}

function lineOfHeight(heights: Four, corners: Four, height: number): number {
  for (const at of SPANS) {
    const [low, high] = [heights[at], heights[at + 1] as number];
    const [from, to] = [corners[at], corners[at + 1] as number];
    if ((height <= high || at === 2) && high > low) {
      return from + ((height - low) / (high - low)) * (to - from);
    }
  }
  return -1;
}
