/** Transforms between a flat thing and a picture of it, fitted through points touched in both.

A point is `[x, y]`, a transform nine numbers row by row. Fits run from `sources` (the plane, in any
unit, its two axes may have different ones) to `targets` (the picture, pixels). A transform is
scaled so that the third coordinate is 1 at the middle of its sources, and so above 0 at each. */

import { Refused } from './errors';
import { nullVector } from './photo_geometry_solver';

export type Point = readonly [number, number];
/** Nine numbers, row by row. */
export type Transform = readonly number[];
type Nine = [number, number, number, number, number, number, number, number, number];

/** Points whose spread across is less than this share of that along count as one line.
Common practice, no source. */
export const NEARLY_COLLINEAR = 0.02;
const HORIZON = 1e-12;

/** Turn, one scale and shift, by least squares; two points or more. `mirrored` where the picture's
y runs the other way, which two points cannot tell. Refused: `too_few_points`. */
export function fitSimilarity(sources: Point[], targets: Point[], mirrored = false): Transform {
  refuseTooFew(sources, targets, 2);
  const flip = mirrored ? -1 : 1;
  const flipped = sources.map(([x, y]): Point => [x, y * flip]);
  const s = centred(flipped);
  const t = centred(targets);
  const size = sum(s, ([x, y]) => x * x + y * y);
  if (size === 0 || sum(t, ([x, y]) => x * x + y * y) === 0) throw tooFew(1, 2);
  const a = sum(s, ([x, y], at) => dot([x, y], pointOf(t, at))) / size;
  const b = sum(s, ([x, y], at) => dot([-y, x], pointOf(t, at))) / size;
  return affine([a, -b * flip, b, a * flip], meanOf(sources), meanOf(targets));
}

/** The affine transform, by least squares; three points or more.
Refused: `too_few_points`, `collinear_points`. */
export function fitAffine(sources: Point[], targets: Point[]): Transform {
  refuseTooFew(sources, targets, 3);
  refuseCollinear(sources, targets);
  const width = widthOf(sources);
  const s = centred(sources).map(([x, y]): Point => [x / width[0], y / width[1]]);
  const t = centred(targets);
  const xx = sum(s, ([x]) => x * x);
  const xy = sum(s, ([x, y]) => x * y);
  const yy = sum(s, ([, y]) => y * y);
  const by = xx * yy - xy * xy;
  const row = (axis: 0 | 1): [number, number] => {
    const x = sum(s, (one, at) => one[0] * pointOf(t, at)[axis]);
    const y = sum(s, (one, at) => one[1] * pointOf(t, at)[axis]);
    return [(yy * x - xy * y) / by / width[0], (xx * y - xy * x) / by / width[1]];
  };
  return affine([...row(0), ...row(1)], meanOf(sources), meanOf(targets));
}

/** The projective transform; four points or more, least squares beyond four.

Normalised direct linear transform: Hartley and Zisserman, Multiple View Geometry, 2nd ed.,
algorithm 4.2 (from memory); here each axis of the sources is scaled by itself.
Refused: `too_few_points`; `collinear_points`, all but one lie on a line; `crossed_points`, no view
of the sources can look like that, for they are out of order or one is elsewhere. */
export function fitHomography(sources: Point[], targets: Point[]): Transform {
  refuseTooFew(sources, targets, 4);
  for (let out = 0; out < sources.length; out++) {
    refuseCollinear(without(sources, out), without(targets, out));
  }
  const [tx, ty] = widthOf(targets);
  const round = Math.sqrt((tx * tx + ty * ty) / 2);
  const s = normalised(sources, widthOf(sources));
  const t = normalised(targets, [round, round]);
  const h = nullVector(equations(s.points, t.points)) as Nine;
  const full = product(inverse(t.to) as Nine, product(h, s.to));
  const [x, y] = meanOf(sources);
  const middle = full[6] * x + full[7] * y + full[8];
  const scaled = full.map((one) => one / middle);
  if (sources.some((one) => depth(scaled as Nine, one) <= HORIZON)) {
    throw new Refused(
      'crossed_points',
      'The points are out of order, or one was touched at a wrong place: nothing flat can look like that.',
      'Touch them again in the order shown, going round once.',
    );
  }
  return scaled;
}

/** Where a point goes. Refused: `beyond_horizon`, where the plane runs out of sight. */
export function apply(transform: Transform, point: Point): [number, number] {
  const [x, y] = point;
  const [a, b, c, d, e, f, g, h, i] = transform as Nine;
  const w = g * x + h * y + i;
  if (w <= HORIZON * (Math.abs(g * x) + Math.abs(h * y) + Math.abs(i))) {
    throw new Refused(
      'beyond_horizon',
      'That point lies beyond where the plane runs out of sight.',
      'Stay nearer to the points that were touched.',
    );
  }
  return [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
}

/** The transform that leads back. Refused: `collinear_points`, it presses all on to a line. */
export function inverse(transform: Transform): Transform {
  const [a, b, c, d, e, f, g, h, i] = transform as Nine;
  const turned = [
    ...[e * i - f * h, c * h - b * i, b * f - c * e],
    ...[f * g - d * i, a * i - c * g, c * d - a * f],
    ...[d * h - e * g, b * g - a * h, a * e - b * d],
  ];
  const determinant = a * (e * i - f * h) + b * (f * g - d * i) + c * (d * h - e * g);
  if (determinant === 0) throw collinear();
  return turned.map((one) => one / determinant);
}

/** The root of the mean squared distance between where points go and where they were. */
export function residualRms(transform: Transform, sources: Point[], targets: Point[]): number {
  const squares = sources.map((one, at) => {
    const [x, y] = apply(transform, one);
    const [u, v] = pointOf(targets, at);
    return (x - u) ** 2 + (y - v) ** 2;
  });
  return Math.sqrt(squares.reduce((a, b) => a + b, 0) / squares.length);
}

/** Whether what goes round one way goes round the other way afterwards. */
export function isMirrored(transform: Transform): boolean {
  const [a, b, c, d, e, f, g, h, i] = transform as Nine;
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g) < 0;
}

/** The spread of points across their line as a share of that along it: 1 is as wide as long, 0 one
line or one place. */
export function condition(points: Point[]): number {
  const from = centred(points);
  const xx = sum(from, ([x]) => x * x);
  const yy = sum(from, ([, y]) => y * y);
  const xy = sum(from, ([x, y]) => x * y);
  const along = (xx + yy + Math.hypot(xx - yy, 2 * xy)) / 2;
  // The product of both spreads is the determinant; a difference of two would lose its figures.
  return along > 0 ? Math.sqrt(Math.max(0, xx * yy - xy * xy)) / along : 0;
}

function refuseTooFew(sources: Point[], targets: Point[], least: number): void {
  if (sources.length !== targets.length || sources.length < least) {
    throw tooFew(Math.min(sources.length, targets.length), least);
  }
}

function tooFew(count: number, least: number): Refused {
  return new Refused(
    'too_few_points',
    `${count} of the ${least} points that are needed at least, each at a place of its own.`,
    'Touch more points.',
  );
}

function refuseCollinear(sources: Point[], targets: Point[]): void {
  const [x, y] = widthOf(sources);
  const ofEachAxis = centred(sources).map((one): Point => [one[0] / (x || 1), one[1] / (y || 1)]);
  if (Math.min(condition(ofEachAxis), condition(targets)) < NEARLY_COLLINEAR) throw collinear();
}

function collinear(): Refused {
  return new Refused(
    'collinear_points',
    'The points lie on one line, or nearly, so the plane between them is not known.',
    'Touch points that are spread both ways.',
  );
}

function pointOf(points: Point[], at: number): Point {
  return points[at] as Point;
}

function dot([x, y]: Point, [u, v]: Point): number {
  return x * u + y * v;
}

function sum(points: Point[], of: (point: Point, at: number) => number): number {
  return points.reduce((total, point, at) => total + of(point, at), 0);
}

function meanOf(points: Point[]): Point {
  return [sum(points, ([x]) => x) / points.length, sum(points, ([, y]) => y) / points.length];
}

function centred(points: Point[]): Point[] {
  const [x, y] = meanOf(points);
  return points.map((one): Point => [one[0] - x, one[1] - y]);
}

function widthOf(points: Point[]): Point {
  const from = centred(points);
  return [
    Math.sqrt(sum(from, ([x]) => x * x) / points.length),
    Math.sqrt(sum(from, ([, y]) => y * y) / points.length),
  ];
}

function without(points: Point[], out: number): Point[] {
  return points.filter((_, at) => at !== out);
}

function affine(linear: number[], from: Point, to: Point): Transform {
  const [a, b, c, d] = linear as [number, number, number, number];
  return [
    ...[a, b, to[0] - a * from[0] - b * from[1]],
    ...[c, d, to[1] - c * from[0] - d * from[1]],
    ...[0, 0, 1],
  ];
}

function normalised(points: Point[], width: Point): { points: Point[]; to: Nine } {
  const [x, y] = meanOf(points);
  const [u, v] = width;
  return {
    points: points.map((one): Point => [(one[0] - x) / u, (one[1] - y) / v]),
    to: [1 / u, 0, -x / u, 0, 1 / v, -y / v, 0, 0, 1],
  };
}

function equations(s: Point[], t: Point[]): number[][] {
  return s.flatMap(([x, y], at) => {
    const [u, v] = pointOf(t, at);
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, -v],
    ];
  });
}

function product(one: Nine, other: Nine): Nine {
  const [a, b, c, d, e, f, g, h, i] = other;
  return [0, 3, 6].flatMap((row) => {
    const [x, y, w] = one.slice(row, row + 3) as [number, number, number];
    return [x * a + y * d + w * g, x * b + y * e + w * h, x * c + y * f + w * i];
  }) as Nine;
}

function depth(transform: Nine, [x, y]: Point): number {
  return transform[6] * x + transform[7] * y + transform[8];
}
