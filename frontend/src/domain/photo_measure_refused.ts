/** What no measurement is made from in a photograph, each with a plain sentence. */

import { Refused } from './errors';
import { condition, NEARLY_COLLINEAR, type Point } from './photo_geometry';
import type { Scale } from './photo_measure';

export const EDGE_SHARE = 0.15;
/** How far from the scale is still measured, in widths of it. Common practice, no source. */
const REACH = 2;
const POINTS: Readonly<Record<string, readonly [number, number]>> = {
  length: [2, 2],
  polyline: [2, 100],
  area: [3, 100],
  diameter: [3, 3],
};
const SCALE_POINTS: Readonly<Record<string, number>> = {
  'two points': 2,
  rectangle: 4,
  'scale card': 4,
};

/** Refuses a depth, and any shape that is not known. */
export function refuseDepth(shape: string): void {
  if (shape === 'depth') {
    throw new Refused(
      'depth_from_photograph',
      'Depth is never taken from a photograph: one picture does not hold it.',
      'Measure it with a depth gauge.',
    );
  }
  if (!Object.hasOwn(POINTS, shape)) {
    throw new Refused(
      'no_such_shape',
      `“${shape}” is no shape to measure.`,
      'Measure a length, a polyline, an area or a diameter.',
    );
  }
}

/** The scale, unless there is none, or it was struck. */
export function refuseScale(scale: Scale | null): Scale {
  if (!scale || !Object.hasOwn(SCALE_POINTS, scale.method)) {
    throw new Refused(
      'no_scale',
      'No scale is set on this photograph, so nothing in it has a length.',
      'Set a scale first: two points of known distance, or a card.',
    );
  }
  if (scale.struck === true) {
    throw new Refused(
      'scale_withdrawn',
      'The scale of this measurement was struck, so its length is withdrawn.',
      'Set a scale and measure again.',
    );
  }
  const least = SCALE_POINTS[scale.method] as number;
  if (scale.points.length !== least) refuseCount(scale.points.length, least);
  return scale;
}

/** Refuses too few points, too many, or two one after another at one place. */
export function refusePoints(shape: string, points: readonly Point[]): void {
  const [least, most] = POINTS[shape] as [number, number];
  if (points.length < least || points.length > most) refuseCount(points.length, least);
  const after = points.slice(1);
  if (least > 2) after.push(points[0] as Point);
  const apart = after.filter(([x, y], at) => x !== points[at]?.[0] || y !== points[at]?.[1]).length;
  if (apart < after.length) refuseCount(apart + 1, least);
}

/** Refuses points farther from the scale than two of its widths, all in mm of the plane. */
export function refuseFar(known: readonly number[], points: readonly Point[]): void {
  const [wide = 0, high = 0] = known;
  const reach = REACH * Math.max(wide, high);
  for (const [x, y] of points) {
    const off = Math.hypot(Math.max(-x, 0, x - wide), Math.max(-y, 0, y - high));
    if (off > reach) {
      throw new Refused(
        'far_from_scale',
        `A point lies ${off.toFixed(0)} mm from the scale; ${reach.toFixed(0)} mm, two widths of it, is the most.`,
        'Lay the scale nearer and take the picture again.',
      );
    }
  }
}

/** Refuses an outline that crosses itself, and a rim whose points lie on one line, or nearly. */
export function refuseShape(shape: string, points: Point[]): void {
  if (shape === 'area') refuseCrossed(points);
  if (shape === 'diameter' && condition(points) < NEARLY_COLLINEAR) {
    throw new Refused(
      'collinear_points',
      'The three points lie on one line, or nearly, so no circle is known.',
      'Spread them round the rim.',
    );
  }
}

/** Refuses a size, as it is shown, whose ± is as large as itself or larger. */
export function refuseWide(value: string, uncertainty: string, unit: string): void {
  if (Number(uncertainty) >= Number(value)) {
    throw new Refused(
      'wider_than_measured',
      `± ${uncertainty} ${unit} is wider than what was measured: no figure.`,
      'Set the points under the loupe, take a picture from nearer, or measure with a gauge.',
    );
  }
}

function refuseCrossed(points: readonly Point[]): void {
  const sides = points.map((one, at) => [one, points[(at + 1) % points.length] as Point] as const);
  for (const [at, one] of sides.entries()) {
    // Neighbours share a corner; so do the first side and the last.
    const last = at === 0 ? sides.length - 1 : sides.length;
    for (const other of sides.slice(at + 2, last)) {
      if (cross(...one, ...other)) {
        throw new Refused(
          'crossed_points',
          'The outline crosses itself, so it has no area.',
          'Touch its corners in order, going round once.',
        );
      }
    }
  }
}

function cross(a: Point, b: Point, c: Point, d: Point): boolean {
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

function side(p: Point, q: Point, r: Point): number {
  return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
}

function refuseCount(count: number, least: number): never {
  throw new Refused(
    'too_few_points',
    `${count} of the ${least} points that are needed, each at a place of its own.`,
    'Touch the points that are shown.',
  );
}
