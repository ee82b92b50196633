/** How a photograph lies on an earlier one of the same view: turn, scale and shift.

Points are `[x, y]` px as shown: upright, and turned left for right where the picture was seen in a
mirror. A size is `[width, height]` px. A transform leads from this picture to the earlier one. */

import { Refused } from './errors';
import {
  apply,
  condition,
  fitSimilarity,
  type Point,
  residualRms,
  type Transform,
} from './photo_geometry';
import { decimalText, fieldsOf, isNear, numberOf } from './same_view_words';

export const FEWEST = 3;
// Shares of the longer side: rivets touched must lie so far apart, and lie alike to that much.
// Common practice, no source.
const LEAST_SPREAD = 0.1;
const MOST_RESIDUAL = 0.02;

export type Size = readonly [number, number];
type Nine = [number, number, number, number, number, number, number, number, number];

/** How this picture lies on the earlier one.

`turn_deg`: what is shown is turned so much clockwise here. `scale_percent`: it is so much larger
here, as a share of the picture's longer side. `shift_px`: the middle of this picture lies so far
right and below that of the earlier one, in its px. `residual_px`: how far the points miss each
other there, root mean square. */
export interface SameView {
  to_other: Transform;
  turn_deg: number;
  scale_percent: number;
  shift_px: [number, number];
  residual_px: number;
  good: boolean;
  alike: boolean;
}

/** A fit as a photograph keeps it: decimal texts. */
export type Fit = {
  turn_deg: string;
  scale_percent: string;
  shift_px: string[];
  residual_px: string;
  by: FitBy;
  to_other?: string[];
  points?: { here: number[][]; earlier: number[][] };
};
export type FitBy = 'three rivets' | 'registration';

/** The fit of three rivets or more, touched in the same order in both pictures. Refused:
`too_few_points`; `points_close`, they say little of a turn; `points_turned`, in one picture they
go round the other way. */
export function sameView(
  here: Point[],
  earlier: Point[],
  size: Size,
  earlier_size: Size,
): SameView {
  if (Math.min(here.length, earlier.length) < FEWEST) {
    throw new Refused(
      'too_few_points',
      `${Math.min(here.length, earlier.length)} of the ${FEWEST} rivets that are needed in each.`,
      'Touch the same rivets in both pictures.',
    );
  }
  refuseClose(here, size);
  refuseClose(earlier, earlier_size);
  refuseTurned(here, earlier);
  const to_other = fitSimilarity(here, earlier);
  return viewOf(to_other, size, earlier_size, residualRms(to_other, here, earlier));
}

/** What a transform comes to at the middle of this picture; it may be projective. */
export function viewOf(
  to_other: Transform,
  size: Size,
  earlier_size: Size,
  residual_px = 0,
): SameView {
  const { turn, scale, middle } = atMiddle(to_other as Nine, size);
  const turn_deg = (-turn * 180) / Math.PI;
  const scale_percent = 100 * (Math.max(...earlier_size) / Math.max(...size) / scale - 1);
  return {
    to_other,
    turn_deg,
    scale_percent,
    shift_px: [middle[0] - earlier_size[0] / 2, middle[1] - earlier_size[1] / 2],
    residual_px,
    good: isNear(turn_deg, scale_percent),
    alike: residual_px <= MOST_RESIDUAL * Math.max(...earlier_size),
  };
}

/** A fit as a photograph keeps it: decimal texts, the nine numbers if not by rivets. */
export function fitOf(view: SameView, by: FitBy): Fit {
  return {
    turn_deg: decimalText(view.turn_deg, 2),
    scale_percent: decimalText(view.scale_percent, 2),
    shift_px: view.shift_px.map((one) => decimalText(one, 1)),
    residual_px: decimalText(view.residual_px, 1),
    by,
    ...(by === 'registration' ? { to_other: view.to_other.map((one) => decimalText(one, 9)) } : {}),
  };
}

/** The transform that a kept fit stands for, null where it can't be read. */
export function transformOf(fit: unknown, size: Size, earlier_size: Size): Transform | null {
  const given = fieldsOf(fit);
  const nine = textsOf(given.to_other).map(numberOf);
  if (nine.length === 9 && nine.every((one) => one !== null)) return nine as number[];
  const figures = [given.turn_deg, given.scale_percent, ...textsOf(given.shift_px)].map(numberOf);
  if (figures.length !== 4 || figures.some((one) => one === null)) return null;
  const [turn, percent, right, down] = figures as [number, number, number, number];
  if (percent <= -100) return null;
  const scale = Math.max(...earlier_size) / Math.max(...size) / (1 + percent / 100);
  const angle = (-turn * Math.PI) / 180;
  const [a, b] = [scale * Math.cos(angle), scale * Math.sin(angle)];
  const [x, y] = [size[0] / 2, size[1] / 2];
  const [to_x, to_y] = [earlier_size[0] / 2 + right, earlier_size[1] / 2 + down];
  return [a, -b, to_x - a * x + b * y, b, a, to_y - b * x - a * y, 0, 0, 1];
}

/** A point of the upright picture as it is shown, and the other way round. */
export function shownPoint(point: Point, width_px: number, isMirrored: boolean): [number, number] {
  const [x, y] = point;
  return [isMirrored ? width_px - x : x, y];
}

/** Turn in radians, scale and where the middle goes, by the derivative there. */
function atMiddle(to_other: Nine, size: Size) {
  const [a, b, , d, e, , g, h, i] = to_other;
  const [x, y] = [size[0] / 2, size[1] / 2];
  const [u, v] = apply(to_other, [x, y]);
  const w = g * x + h * y + i;
  const [xx, xy] = [(a - u * g) / w, (b - u * h) / w];
  const [yx, yy] = [(d - v * g) / w, (e - v * h) / w];
  const determinant = xx * yy - xy * yx;
  if (determinant <= 0) throw turned();
  return {
    turn: Math.atan2(yx - xy, xx + yy),
    scale: Math.sqrt(determinant),
    middle: [u, v] as const,
  };
}

function refuseClose(points: Point[], size: Size): void {
  const apart = points.flatMap(([x, y]) => points.map(([u, v]) => Math.hypot(x - u, y - v)));
  const spread = Math.max(...apart);
  if (spread >= LEAST_SPREAD * Math.max(...size)) return;
  throw new Refused(
    'points_close',
    `The rivets lie within ${decimalText((100 * spread) / Math.max(...size), 1)} % of the picture; 10 % are needed.`,
    'Touch rivets farther apart.',
  );
}

/** Refuses points that go round the other way; of a row nobody can tell. */
function refuseTurned(here: Point[], earlier: Point[]): void {
  const [mine, theirs] = [here.slice(0, FEWEST), earlier.slice(0, FEWEST)];
  if (Math.min(condition(mine), condition(theirs)) < LEAST_SPREAD) return;
  if (areaOf(mine) * areaOf(theirs) < 0) throw turned();
}

function areaOf(points: Point[]): number {
  const [[ax, ay], [bx, by], [cx, cy]] = points as [Point, Point, Point];
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

function turned(): Refused {
  return new Refused(
    'points_turned',
    'In one picture the rivets go round the other way.',
    'Touch them in the same order in both, or say which picture was seen in a mirror.',
  );
}

function textsOf(value: unknown): unknown[] {
  return Array.isArray(value) ? value : [];
}
