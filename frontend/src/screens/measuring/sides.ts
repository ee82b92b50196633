/** Which way round the four corners of a known rectangle were touched.

Any four corners fit a rectangle either way, and the wrong one gives false lengths with a small ±.
A camera tells: seen through it, the rectangle's two sides must come out as long as they are. */

import { Refused } from '../../domain/errors';
import { fitHomography, type Point } from '../../domain/photo_geometry';

/** Focal length for the width of a picture: a phone's plain lens (26 mm on 36 mm), common practice,
no source. Of one twice as long the sides still tell which is which. */
const FOCAL_SHARE = 0.72;
/** How much nearer to its true shape the other way must be before it is believed: between the two
ways lies the square of width through height. */
const NEARER = 0.15;

interface Size {
  width_px: number;
  height_px: number;
}

/** The corners in the order in which the first side is `wide` long, upright px; going round once, as
they were touched. Null where they lie as they were touched. */
export function turnedCorners(
  corners: readonly Point[],
  [wide, high]: readonly [number, number],
  picture: Size,
): Point[] | null {
  const [first, ...rest] = corners as [Point, Point, Point, Point];
  const other = [...rest, first];
  const [here, there] = [corners, other].map((one) => offShape([...one], wide, high, picture));
  return (there as number) < (here as number) - NEARER ? other : null;
}

/** Refuses four rivets that were touched across the row first. */
export function refuseTurned(
  corners: readonly Point[],
  sides: readonly [number, number],
  picture: Size,
): void {
  if (!turnedCorners(corners, sides, picture)) return;
  throw new Refused(
    'turned_corners',
    'The longer side of these four lies where the shorter one is said to be.',
    'Touch along the row first, then round clockwise; or type the two pitches the other way round.',
  );
}

/** How far the shape that a camera sees is off `wide` by `high`: the natural logarithm. */
function offShape(corners: Point[], wide: number, high: number, { width_px, height_px }: Size) {
  const rectangle: Point[] = [
    [0, 0],
    [wide, 0],
    [wide, high],
    [0, high],
  ];
  const [a, b, , d, e, , g, h] = fitHomography(rectangle, corners);
  const focal_px = FOCAL_SHARE * Math.max(width_px, height_px);
  const [x0, y0] = [width_px / 2, height_px / 2];
  // The columns of the homography are the rectangle's axes, once the camera is taken off them.
  const axis = (x = 0, y = 0, depth = 0) =>
    Math.hypot((x - x0 * depth) / focal_px, (y - y0 * depth) / focal_px, depth);
  return Math.abs(Math.log(axis(a, d, g) / axis(b, e, h)));
}
