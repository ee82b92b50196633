/** Views with a picture: the pixel of a place, and the place under a pixel, by the calibration.
 *
 * The first axis of a calibration is the station in the structure's unit, the second the water line
 * in the same unit, or the strake line: 0 at the keel, and on a view of both hands above nought to
 * starboard and below it to port. */

import { apply, inverse, type Point } from './photo_geometry';
import { cornersOf, heightAt, heightsAt, lineOfHeight, strakeUnder } from './place_heights';
import {
  atStation,
  type Definition,
  type Hand,
  type PictureView,
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

type Pictured = View | PictureView;

/** The views of a structure that have a picture, in the order of the definition. */
export function pictureViews(definition: Definition, structure: string): PictureView[] {
  const own = definition.views.filter((one) => one.structure === structure && one.picture);
  return own as unknown as PictureView[];
}

/** The views that have lines of their own. */
export function drawnViews(definition: Definition): View[] {
  return definition.views.filter((one) => Array.isArray(one.lines));
}

/** The pixel of a place. Where neither strakes nor heights tell how high it lies, it is put in the
 * middle of the points that were touched. Refused: `beyond_horizon`. */
export function picturePoint(
  view: Pictured,
  definition: Definition,
  place: Place,
): [number, number] {
  const structure = structureOf(definition, place);
  const station = Number(spanTenthNm(structure, place)[0]) / Number(TENTH_NM[structure.unit]);
  const second = secondOf(view as PictureView, definition, structure, station, place);
  return apply(toPicture(view), [station, second]);
}

/** The place under a pixel, to a tenth of the unit along. `hand` is used where the view is of no
 * hand and its strakes don't tell one; "C" asks for the keel line. Strakes are left out where
 * nothing tells them. */
export function picturePlace(
  pictured: Pictured,
  definition: Definition,
  px: Point,
  hand: Hand | null = null,
): Place {
  const view = pictured as PictureView;
  const structure = structureOf(definition, view);
  const [along, second] = apply(inverse(toPicture(view)), px);
  const steps = Math.floor(along * TOUCH_STEPS + 0.5);
  const step = TENTH_NM[structure.unit] / BigInt(TOUCH_STEPS);
  const side = handAt(view, structure, second, hand);
  const found = atStation(structure, BigInt(steps) * step);
  const place: Place = { structure: structure.name, hand: side, ...found, precision: 'exact' };
  const { strakes } = structure;
  if (side === 'C' && hand === 'C' && strakes[0] !== undefined)
    return { ...place, strakes: [strakes[0], strakes[0]] };
  const line = lineAt(view, definition, structure, steps / TOUCH_STEPS, second);
  if (line === null) return place;
  const lower = strakeUnder(structure, line);
  return { ...place, strakes: strakes.slice(lower, lower + 2) };
}

/** Whether a place lies in the picture of a view, and on the hand that it shows. */
export function isShown(view: PictureView, definition: Definition, place: Place): boolean {
  if (place.structure !== view.structure) return false;
  if (place.hand !== 'C' && place.hand !== (view.hand ?? place.hand)) return false;
  try {
    const [x, y] = picturePoint(view, definition, place);
    const { width_px, height_px } = view.picture;
    return x >= 0 && x <= width_px && y >= 0 && y <= height_px;
  } catch {
    return false;
  }
}

/** The nine numbers that lead from (along, second, 1) to pixels. */
export function toPicture(view: Pictured): number[] {
  return (view as PictureView).calibration.to_picture.map(Number);
}

function secondOf(
  view: PictureView,
  definition: Definition,
  structure: Structure,
  station: number,
  place: Place,
): number {
  const indexes = strakeIndexes(structure, place);
  if (indexes === null) return middleOf(view);
  const line = (indexes[0] + indexes[1]) / 2;
  if (view.second === 'strake') return place.hand === 'P' && !view.hand ? -line : line;
  if (!hasHeights(definition, structure)) return middleOf(view);
  return heightAt(heightsAt(definition, station), cornersOf(structure), line);
}

function lineAt(
  view: PictureView,
  definition: Definition,
  structure: Structure,
  station: number,
  second: number,
): number | null {
  if (structure.strakes.length < 2) return null;
  if (view.second === 'strake') return view.hand ? second : Math.abs(second);
  if (!hasHeights(definition, structure)) return null;
  return lineOfHeight(heightsAt(definition, station), cornersOf(structure), second);
}

function handAt(view: PictureView, { hands }: Structure, second: number, hand: Hand | null): Hand {
  if (hand === 'C' && hands.includes('C')) return 'C';
  if (view.hand) return view.hand;
  if (view.second === 'strake' && hands.includes('P') && hands.includes('S'))
    return second < 0 ? 'P' : 'S';
  return hand !== null && hands.includes(hand) ? hand : (hands[0] as Hand);
}

/** Whether heights are known; they stand at stations of the first structure. */
function hasHeights(definition: Definition, structure: Structure): boolean {
  const is_first = definition.structures[0]?.name === structure.name;
  return is_first && (definition.profile_heights ?? []).length > 0;
}

function middleOf(view: PictureView): number {
  const touched = view.calibration.points.map(({ at }) => Number(at[1]));
  return (Math.min(...touched) + Math.max(...touched)) / 2;
}
