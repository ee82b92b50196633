/** Places on drawings: a touched point as a place, and a place as a point. */

import { cornersOf, heightAt, heightsAt, lineOfHeight, strakeUnder } from './place_heights';
import { picturePlace, picturePoint } from './place_pictures';
import {
  atStation,
  type Definition,
  type Hand,
  type Place,
  type Structure,
  spanTenthNm,
  structureOf,
  type View,
} from './place_stations';
import { strakeIndexes } from './place_zones';
import { TENTH_NM } from './quantities';

// A touch is read to a tenth of the unit.
const TOUCH_STEPS = 10;

/** The point of a place on a view; x lies exactly on its station. On a view with a picture it is a
 * pixel of that, by its calibration. */
export function viewPoint(view: View, definition: Definition, place: Place): [number, number] {
  if (view.picture) return picturePoint(view, definition, place);
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
  if (view.picture) return picturePlace(view, definition, [x, y], hand);
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
