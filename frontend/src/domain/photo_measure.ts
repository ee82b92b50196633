/** Lengths and areas in a photograph, from a scale laid in the plane of what is measured.

Sorting aid only: a gauge's figure goes before it, and depth is never taken from a photograph.
The ± is 2u of touches, scale and lens; of the touches by first-order propagation (Criminisi, Reid
and Zisserman, A Plane Measuring Device, 1999, sections 1 and 6): the size is worked out anew with
every coordinate of the scale and of the measurement moved by 1e-4 px to both sides. */

import {
  apply,
  fitHomography,
  fitSimilarity,
  inverse,
  type Point,
  type Transform,
} from './photo_geometry';
import { lensU } from './photo_lens';
import {
  EDGE_SHARE,
  refuseDepth,
  refuseFar,
  refusePoints,
  refuseScale,
  refuseShape,
  refuseWide,
} from './photo_measure_refused';
import type { Quantity, Unit } from './quantities';

export interface Scale {
  method: 'two points' | 'rectangle' | 'scale card';
  /** Tenths of an upright pixel. */
  points: readonly Point[];
  length?: Quantity;
  width?: Quantity;
  height?: Quantity;
  object?: string;
  /** Error of a touch, px a coordinate. */
  tap: string;
  card?: { id?: string; measured?: string; residual_px?: string };
  struck?: boolean;
}

export type MeasuredShape = 'length' | 'polyline' | 'area' | 'diameter';

export interface Measurement {
  shape: MeasuredShape;
  points: readonly Point[];
  tap: string;
}

export interface MeasuredPicture {
  width_px: number;
  height_px: number;
  zoom?: unknown;
}

/** A size in mm or mm², and what touches and scale each add to its standard uncertainty. */
export interface Spread {
  size: number;
  touch: number;
  scale: number;
}

export interface MeasureWarning {
  code: string;
  words: string;
}

export interface Measured {
  value: string;
  unit: string;
  /** Twice the standard uncertainty. */
  uncertainty: string;
  words: string;
  terms: { of: string; value: string }[];
  warnings: MeasureWarning[];
}

type SizeOf = (points: Point[]) => number;

const MM: Readonly<Record<string, number>> = { in: 25.4, mm: 1 };
const STEP_PX = 1e-4;
const DECIMAL = /^[0-9]+(\.[0-9]+)?$/;
/** Share to which a ± is worked out: less than that above a decade is noise of the steps. */
const SURE = 1e-6;
/** Error of a touch in px a coordinate; measured on rendered pictures with a model of touches. */
export const TAPS = { loupe: '0.6', finger: '1.5' } as const;
export const AID = 'measured from the photograph: sorting aid';
export const GRANTED = 'Taken for granted: flat skin, and the scale lying on it.';

/** What a measurement comes to, as decimal text in `unit`; of an area in² or mm².

2u is given by two figures and never smaller, the value to the same place.
Refused: `no_scale`, `scale_withdrawn`, `depth_from_photograph`, `far_from_scale`,
`too_few_points`, `collinear_points`, `crossed_points`, `beyond_horizon`, `wider_than_measured`. */
export function measured(
  scale: Scale | null,
  measurement: Measurement,
  picture: MeasuredPicture,
  unit: Unit,
): Measured {
  const spread = propagated(scale, measurement);
  const isArea = measurement.shape === 'area';
  const by = mmOf(unit) ** (isArea ? 2 : 1);
  const lens = lensOf(scale as Scale, measurement, picture);
  const doubt = (2 * Math.hypot(spread.touch, spread.scale, lens)) / by;
  // A ± that rounds up over a decade has its two figures there.
  const places = placesOfDoubt(Number(roundedUp(doubt, placesOfDoubt(doubt))));
  const value = rounded(spread.size / by, places);
  const uncertainty = roundedUp(doubt, places);
  const name = isArea ? `${unit}²` : unit;
  refuseWide(value, uncertainty, name);
  return {
    value,
    unit: name,
    uncertainty,
    words: `${value} ± ${uncertainty} ${name}`,
    terms: [
      { of: 'touch', value: rounded((2 * spread.touch) / by, places) },
      { of: 'scale', value: rounded((2 * spread.scale) / by, places) },
      { of: 'lens', value: rounded((2 * lens) / by, places) },
    ],
    warnings: warnings(scale as Scale, measurement, picture),
  };
}

/** A measurement in mm or mm² with its standard uncertainty, unrounded. */
export function propagated(given: Scale | null, measurement: Measurement): Spread {
  refuseDepth(measurement.shape);
  const scale = refuseScale(given);
  refusePoints(measurement.shape, measurement.points);
  const [corners, picks] = [pixels(scale.points), pixels(measurement.points)];
  const known = knownMm(scale);
  const plane = toPlane(corners, known);
  const ends = there(plane, picks);
  refuseFar(known, ends);
  refuseShape(measurement.shape, ends);
  const sizeOf = SIZES[measurement.shape];
  const at = (moved: Point[]) => sizeOf(there(plane, moved));
  const by = (moved: Point[]) => sizeOf(there(toPlane(moved, known), picks));
  const withKnown = (other: number[]) => sizeOf(there(toPlane(corners, other), picks));
  const cornerPx = Math.hypot(Number(scale.tap), Number(scale.card?.residual_px ?? 0));
  return {
    size: at(picks),
    touch: Number(measurement.tap) * steepness(at, picks),
    scale: Math.hypot(cornerPx * steepness(by, corners), knownU(scale, known, withKnown)),
  };
}

/** The transform from upright pixels to millimetres in the plane of the scale. */
export function toPlane(corners: Point[], known: number[]): Transform {
  const [wide = 0, high] = known;
  if (high === undefined) {
    const ends: Point[] = [
      [0, 0],
      [wide, 0],
    ];
    return inverse(fitSimilarity(ends, corners));
  }
  const rectangle: Point[] = [
    [0, 0],
    [wide, 0],
    [wide, high],
    [0, high],
  ];
  return inverse(fitHomography(rectangle, corners));
}

/** The scale's length, or its width and height, in mm. */
export function knownMm(scale: Scale): number[] {
  return knownOf(scale).map(({ value, unit }) => Number(value) * mmOf(unit));
}

/** Points in pixels from tenths of a pixel. */
export function pixels(tenths: readonly Point[]): Point[] {
  return tenths.map(([x, y]): Point => [x / 10, y / 10]);
}

/** How long the way through the points is. */
export function lengthOf(points: Point[]): number {
  return points.slice(1).reduce((total, [x, y], at) => {
    const [u, v] = points[at] as Point;
    return total + Math.hypot(x - u, y - v);
  }, 0);
}

/** The area inside the points: shoelace formula. */
export function areaOf(points: Point[]): number {
  const twice = points.reduce((total, [x, y], at) => {
    const [u, v] = points[(at + 1) % points.length] as Point;
    return total + (x * v - u * y);
  }, 0);
  return Math.abs(twice) / 2;
}

/** The diameter of the circle through three points: abc / 2A. Three points of the rim, not two
ends: nobody sees where a diameter ends. */
export function diameterOf(points: Point[]): number {
  const [[x, y], [u, v], [r, s]] = points as unknown as [Point, Point, Point];
  const twice = Math.abs((u - x) * (s - y) - (r - x) * (v - y));
  return (Math.hypot(u - x, v - y) * Math.hypot(r - u, s - v) * Math.hypot(x - r, y - s)) / twice;
}

const SIZES: Readonly<Record<MeasuredShape, SizeOf>> = {
  length: lengthOf,
  polyline: lengthOf,
  area: areaOf,
  diameter: diameterOf,
};

/** What may make a measurement wrong by more than its ±, in words. */
export function warnings(
  scale: Scale,
  measurement: Measurement,
  picture: MeasuredPicture,
): MeasureWarning[] {
  const told = [{ code: 'granted', words: GRANTED }];
  if (scale.method === 'two points') {
    const words = 'Not corrected for tilt: 10° shortens by 1.5 %, 30° by 13.4 %.';
    told.push({ code: 'tilt', words });
  }
  if (isOutside(measurement.points, picture)) {
    const words = 'In the outer 15 % of the picture, where lenses bend lines.';
    told.push({ code: 'edge', words });
  }
  if (isZoomed(picture.zoom)) {
    const words = 'The picture was zoomed or cropped: its pixels are coarser.';
    told.push({ code: 'zoomed', words });
  }
  return told;
}

/** The decimal place of the second figure of a ±; below 0 for tens. At most two figures of an
uncertainty are given: JCGM 100 (GUM), 7.2.6. */
export function placesOfDoubt(doubt: number): number {
  return 1 - Number(doubt.toExponential(17).split('e')[1]);
}

/** Decimal text, half up; the places of tens and more are noughts. */
export function rounded(value: number, places: number): string {
  if (places >= 0) return value.toFixed(places);
  return String(Number((value / 10 ** -places).toFixed(0)) * 10 ** -places);
}

/** Decimal text that is never smaller than the value, but for the share `SURE`. */
export function roundedUp(value: number, places: number): string {
  return rounded(Math.ceil(value * (1 - SURE) * 10 ** places) / 10 ** places, places);
}

function there(plane: Transform, points: Point[]): Point[] {
  return points.map((one) => apply(plane, one));
}

/** How fast a size changes with all coordinates together, a px of each. */
function steepness(of: SizeOf, points: Point[]): number {
  let total = 0;
  for (const at of points.keys()) {
    for (const axis of [0, 1] as const) {
      const [more, less] = [of(moved(points, at, axis, 1)), of(moved(points, at, axis, -1))];
      total += ((more - less) / (2 * STEP_PX)) ** 2;
    }
  }
  return Math.sqrt(total);
}

function moved(points: Point[], at: number, axis: 0 | 1, sign: number): Point[] {
  return points.map(([x, y], of): Point => {
    if (of !== at) return [x, y];
    return axis === 0 ? [x + sign * STEP_PX, y] : [x, y + sign * STEP_PX];
  });
}

/** What the ± of the scale's own lengths adds; nothing where none is known. */
function knownU(scale: Scale, known: number[], of: (known: number[]) => number): number {
  const parts = knownOf(scale).map(({ uncertainty }, at) => {
    if (!uncertainty) return 0;
    const u = (Number(uncertainty.value) * mmOf(uncertainty.unit)) / 2;
    const step = (sign: number) => known.map((one, of) => (of === at ? one + sign * STEP_PX : one));
    return (u * (of(step(1)) - of(step(-1)))) / (2 * STEP_PX);
  });
  return Math.hypot(...parts);
}

function lensOf(scale: Scale, measurement: Measurement, picture: MeasuredPicture): number {
  const [known, sizeOf] = [knownMm(scale), SIZES[measurement.shape]];
  const size = (corners: Point[], picks: Point[]) => sizeOf(there(toPlane(corners, known), picks));
  return lensU(size, pixels(scale.points), pixels(measurement.points), picture);
}

function knownOf(scale: Scale): Quantity[] {
  const lengths = scale.method === 'two points' ? [scale.length] : [scale.width, scale.height];
  return lengths as Quantity[];
}

function mmOf(unit: string): number {
  return MM[unit] as number;
}

function isZoomed(zoom: unknown): boolean {
  if (typeof zoom === 'string') return DECIMAL.test(zoom) && Number(zoom) > 1;
  return typeof zoom === 'number' && zoom > 1;
}

function isOutside(points: readonly Point[], { width_px, height_px }: MeasuredPicture): boolean {
  const shares = points.flatMap(([x, y]) => [x / (10 * width_px), y / (10 * height_px)]);
  return shares.some((share) => share < EDGE_SHARE || share > 1 - EDGE_SHARE);
}
