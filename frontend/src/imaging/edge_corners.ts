/** The corners of a black square on white, from its four edges: to a tenth of a pixel.

Along each edge the steps from black to white are found on lines across it, a line is laid through
them, and neighbouring lines are crossed. A corner itself is rounded by blur; an edge is not moved
by it. */

import type { Point } from '../domain/photo_geometry';
import type { Pixels } from './card_markers';

/** A line as a point of it and its direction, of length 1. */
type Line = readonly [Point, Point];

const LINES_ACROSS = 32;
/** Share of an edge at either end that a rounded corner may reach. */
const END = 0.12;
const STEP_PX = 0.25;
/** A rise below this share of the steepest is noise. */
const NOISE = 0.25;
/** Grey levels between black and white, below which there is no edge. */
const LEAST_RISE = 24;
const LEAST_LINES = 8;

/** Returns the corners nearer to the truth, null where an edge is not there.

`reach_px` is how far off the corners handed in may be. */
export function edgeCorners(picture: Pixels, rough: Point[], reach_px: number): Point[] | null {
  const wide = crossed(picture, rough, reach_px);
  return wide && (crossed(picture, wide, Math.max(3, reach_px / 2)) ?? wide);
}

function crossed(picture: Pixels, corners: Point[], reach_px: number): Point[] | null {
  const sides = corners.map((from, at) => {
    const to = corners[(at + 1) % corners.length] as Point;
    // The black border is an eighth of the side wide: past it other steps begin.
    const module_px = Math.hypot(to[0] - from[0], to[1] - from[1]) / 8;
    return lineThrough(stepsOf(picture, from, to, Math.min(reach_px, module_px * 0.9)));
  });
  const found = sides.map((side, at) => {
    const before = sides[(at + sides.length - 1) % sides.length];
    return side && before ? crossing(before, side) : null;
  });
  return found.every((one) => one !== null) ? found : null;
}

/** Where black turns to white on lines across an edge; the inside is on the right of it. */
function stepsOf(picture: Pixels, from: Point, to: Point, reach_px: number): Point[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const out: Point = [(to[1] - from[1]) / length, (from[0] - to[0]) / length];
  const steps: Point[] = [];
  for (let index = 0; index < LINES_ACROSS; index += 1) {
    const share = END + (1 - 2 * END) * (index / (LINES_ACROSS - 1));
    const on: Point = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    const off = stepAlong(picture, on, out, reach_px);
    if (off !== null) steps.push([on[0] + out[0] * off, on[1] + out[1] * off]);
  }
  return steps;
}

/** How far out the step lies: the middle of all that rises there, by how much it rises. */
function stepAlong(picture: Pixels, on: Point, out: Point, reach_px: number): number | null {
  const rises: { at: number; by: number }[] = [];
  let before = greyAt(picture, on[0] - out[0] * reach_px, on[1] - out[1] * reach_px);
  for (let at = STEP_PX - reach_px; at <= reach_px; at += STEP_PX) {
    const grey = greyAt(picture, on[0] + out[0] * at, on[1] + out[1] * at);
    if (grey === null || before === null) return null;
    rises.push({ at: at - STEP_PX / 2, by: grey - before });
    before = grey;
  }
  const steepest = Math.max(...rises.map((one) => one.by));
  const kept = rises.filter((one) => one.by > steepest * NOISE);
  const all = kept.reduce((sum, one) => sum + one.by, 0);
  if (steepest <= 0 || all < LEAST_RISE) return null;
  return kept.reduce((sum, one) => sum + one.at * one.by, 0) / all;
}

/** The grey between four pixels; a point is counted from the corner of the picture. */
function greyAt({ width, height, data }: Pixels, x: number, y: number): number | null {
  const [left, top] = [Math.floor(x - 0.5), Math.floor(y - 0.5)];
  if (left < 0 || top < 0 || left + 1 >= width || top + 1 >= height) return null;
  const [right_share, lower_share] = [x - 0.5 - left, y - 0.5 - top];
  const grey = (across: number, down: number) => {
    const at = ((top + down) * width + left + across) * 4;
    return (
      0.299 * (data[at] as number) +
      0.587 * (data[at + 1] as number) +
      0.114 * (data[at + 2] as number)
    );
  };
  const upper = grey(0, 0) * (1 - right_share) + grey(1, 0) * right_share;
  const lower = grey(0, 1) * (1 - right_share) + grey(1, 1) * right_share;
  return upper * (1 - lower_share) + lower * lower_share;
}

/** The line that is nearest to most of the points; null where too few are left. */
function lineThrough(points: Point[]): Line | null {
  let kept = points;
  for (let round = 0; round < 3; round += 1) {
    if (kept.length < LEAST_LINES) return null;
    const line = leastSquares(kept);
    const off = points.map((one) => Math.abs(offLine(line, one)));
    const middle = [...off].sort((a, b) => a - b)[off.length >> 1] as number;
    // 1.48 times the median is the standard deviation of what scatters normally.
    const limit = Math.max(0.1, 3 * 1.48 * middle);
    kept = points.filter((_, at) => (off[at] as number) <= limit);
  }
  return kept.length < LEAST_LINES ? null : leastSquares(kept);
}

/** The line of least squared distances: the long axis of the points. */
function leastSquares(points: Point[]): Line {
  const mean: Point = [
    points.reduce((sum, [x]) => sum + x, 0) / points.length,
    points.reduce((sum, [, y]) => sum + y, 0) / points.length,
  ];
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of points) {
    xx += (x - mean[0]) ** 2;
    xy += (x - mean[0]) * (y - mean[1]);
    yy += (y - mean[1]) ** 2;
  }
  const turn = Math.atan2(2 * xy, xx - yy) / 2;
  return [mean, [Math.cos(turn), Math.sin(turn)]];
}

function offLine([on, [x, y]]: Line, point: Point): number {
  return (point[0] - on[0]) * y - (point[1] - on[1]) * x;
}

function crossing([one, [a, b]]: Line, [other, [c, d]]: Line): Point | null {
  const across = a * d - b * c;
  if (Math.abs(across) < 1e-3) return null;
  const along = ((other[0] - one[0]) * d - (other[1] - one[1]) * c) / across;
  return [one[0] + a * along, one[1] + b * along];
}
