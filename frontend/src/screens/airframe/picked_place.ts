import { apply, inverse } from '../../domain/photo_geometry';
import type { Definition, PictureView, Place, View } from '../../domain/place';
import { placeAt } from '../../domain/place';
import { toPicture } from '../../domain/place_pictures';

type Point = readonly [number, number];

const TOUCH_PX = 1.5;
const STEPS = [1, 2, 5, 10];

/** The place under a touch on a calibrated picture: along it as fine as a finger tells, and strake,
 * hand and face as they were where the picture does not tell them. Refused: beside the structure. */
export function pickedPlace(
  view: PictureView,
  definition: Definition,
  before: Place,
  px: Point,
  /** Pixels of the picture under one of the screen. */
  scale: number,
): Place {
  const hand = before.hand;
  const found = placeAt(view as unknown as View, definition, px[0], px[1], hand);
  const { to: _to, strakes: _strakes, ...kept } = before;
  const strakes =
    found.strakes ?? (before.structure === found.structure ? before.strakes : undefined);
  return {
    ...kept,
    ...found,
    ...(strakes ? { strakes } : {}),
    offset: roundedOffset(definition, found, touchStep(view, px, scale)),
  };
}

/** A step of 1, 2 or 5 that a touch can tell along a picture there, in units of the structure. */
export function touchStep(view: PictureView, [x, y]: Point, scale: number): number {
  const back = inverse(toPicture(view));
  const reach = TOUCH_PX * scale;
  const [left] = apply(back, [x - reach, y]);
  const [right] = apply(back, [x + reach, y]);
  const [above] = apply(back, [x, y - reach]);
  const [below] = apply(back, [x, y + reach]);
  const told = Math.max(Math.hypot(right - left, below - above) / 2, 0.1);
  const ten = 10 ** Math.floor(Math.log10(told) + 1e-9);
  return ten * (STEPS.find((one) => one * ten >= told * (1 - 1e-9)) ?? 10);
}

/** Rounded to the step, and never as far as the next member. */
function roundedOffset(definition: Definition, place: Place, step: number): Place['offset'] {
  const structure = definition.structures.find((one) => one.name === place.structure);
  const at = structure?.members.findIndex((one) => one.name === place.member) ?? -1;
  const [own, next] = [structure?.members[at], structure?.members[at + 1]];
  const bay = own && next ? Number(next.station) - Number(own.station) : Number.POSITIVE_INFINITY;
  const rounded = Math.round(Number(place.offset.value) / step) * step;
  const kept = rounded >= bay ? Math.floor((bay - 1e-9) / step) * step : rounded;
  return { ...place.offset, value: kept.toFixed(step < 1 ? 1 : 0) };
}
