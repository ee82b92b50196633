/** What a lens may add to the doubt of a size in a photograph: it bends lines away from the middle.

First radial term of Brown's model: a point at the share s of the half diagonal is moved outwards by
k s² of its distance from the middle. What bends scale and measurement alike cancels out. */

import type { Point } from './photo_geometry';

/** Standard uncertainty of k. A phone leaves about 1 % at the corner after its own correction (common
practice, no source); anything up to that is as likely: JCGM 100 (GUM), 4.3.7. */
export const LENS = 0.01 / Math.sqrt(3);
const STEP = 1e-4;

interface Size {
  width_px: number;
  height_px: number;
}

/** The standard uncertainty of a size by the lens, in the unit of `sizeOf`, which gives the size from
the corners of the scale and the points measured, upright px. */
export function lensU(
  sizeOf: (corners: Point[], picks: Point[]) => number,
  corners: Point[],
  picks: Point[],
  picture: Size,
): number {
  const at = (k: number) => sizeOf(bent(corners, picture, k), bent(picks, picture, k));
  return (LENS * Math.abs(at(STEP) - at(-STEP))) / (2 * STEP);
}

/** Where points of a straight picture, px, lie in one that a lens bent by `k`. */
export function bent(points: Point[], { width_px, height_px }: Size, k: number): Point[] {
  const [x0, y0] = [width_px / 2, height_px / 2];
  const half = Math.hypot(x0, y0);
  return points.map(([x, y]): Point => {
    const by = 1 + k * (Math.hypot(x - x0, y - y0) / half) ** 2;
    return [x0 + (x - x0) * by, y0 + (y - y0) * by];
  });
}
