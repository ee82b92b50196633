/** Which way round the four corners of a known rectangle were touched.

Any four corners fit a rectangle either way, and the wrong one gives false lengths with a small ±.
A camera tells: seen through it, the rectangle's two sides must come out as long as they are. */

import { Refused } from '../../domain/errors';
import { fitHomography, type Point } from '../../domain/photo_geometry';

/** Focal lengths for the longer side of a picture: a phone's plain lens (26 mm on 36 mm) and twice that
(common practice, no source). Which it was nobody knows: where they disagree it is not sure. */
const PLAIN_SHARE = 0.72;
const LONG_SHARE = 1.44;
/** How much nearer to its true shape the other way must be before it is believed: between the two
ways lies the square of width through height. */
const NEARER = 0.15;
/** Sides as alike as this are not told apart: the natural logarithm of one through the other. */
const ALIKE = 0.35;

interface Size {
  width_px: number;
  height_px: number;
}

/** Whether four corners were begun at the shorter side, and whether another lens says the same. */
export interface Sides {
  turned: boolean;
  sure: boolean;
}

/** Which way four corners lie that were touched going round, the first side being `wide` long;
upright px. Not sure on a picture taken very much from the side. */
export function sidesOf(
  corners: readonly Point[],
  [wide, high]: readonly [number, number],
  picture: Size,
): Sides {
  if (Math.abs(Math.log(wide / high)) < ALIKE) return { turned: false, sure: true };
  const ways = [corners, turned(corners)].map((one) => axesOf(one, wide, high, picture));
  const isTurned = (share: number) => {
    const [here = 0, there = 0] = ways.map((axes) => offShape(axes, share * longest(picture)));
    return there < here - NEARER;
  };
  const found = isTurned(PLAIN_SHARE);
  return { turned: found, sure: found === isTurned(LONG_SHARE) };
}

/** The corners begun one later. */
export function turned(corners: readonly Point[]): Point[] {
  return [...corners.slice(1), ...corners.slice(0, 1)];
}

/** Refuses four rivets that were touched across the row first. */
export function refuseTurned({ turned, sure }: Sides): void {
  if (!turned || !sure) return;
  throw new Refused(
    'turned_corners',
    'The longer side of these four lies where the shorter one is said to be.',
    'Touch along the row first, then round clockwise.',
  );
}

type Axis = [right: number, down: number, depth: number];

/** The rectangle's two axes as the picture has them: the columns of its homography. */
function axesOf(corners: readonly Point[], wide: number, high: number, picture: Size) {
  const rectangle: Point[] = [
    [0, 0],
    [wide, 0],
    [wide, high],
    [0, high],
  ];
  const [a = 0, b = 0, , d = 0, e = 0, , g = 0, h = 0] = fitHomography(rectangle, [...corners]);
  const [x0, y0] = [picture.width_px / 2, picture.height_px / 2];
  const columns: Axis[] = [
    [a - x0 * g, d - y0 * g, g],
    [b - x0 * h, e - y0 * h, h],
  ];
  return columns;
}

/** How far the shape that a camera sees is off the true one: the natural logarithm of their ratio. */
function offShape(axes: readonly Axis[], focal_px: number): number {
  const [one = 0, other = 0] = axes.map(([right, down, depth]) =>
    Math.hypot(right / focal_px, down / focal_px, depth),
  );
  return Math.abs(Math.log(one / other));
}

function longest({ width_px, height_px }: Size): number {
  return Math.max(width_px, height_px);
}
