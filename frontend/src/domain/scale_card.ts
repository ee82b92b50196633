/** The printed scale card: where its corners and markers lie, in mm from its upper left corner.

The layout is our own. The markers are four of the ArUco MIP dictionary of 36 bits, any two of which
differ in 12 at least (S. Garrido-Jurado and others, *Generation of fiducial marker dictionaries
using mixed integer linear programming*, Pattern Recognition 51, 2016). */

import card from '@tables/scale_card.json';
import type { Point } from './photo_geometry';

/** `corner_px` is the error of a corner that was found, px a coordinate: the most on rendered
pictures of a true lens (trial `measuring`), where the median is 0.03. */
export const CARD = card;
export type CardMarker = (typeof card.markers)[number];

/** Corners of the card, clockwise from the upper left as it is read. */
export function cardCorners(): Point[] {
  return square([0, 0], card.width_mm, card.height_mm);
}

/** Corners of a marker, clockwise from its own upper left. */
export function markerCorners({ at_mm }: CardMarker): Point[] {
  return square(at_mm as [number, number], card.side_mm, card.side_mm);
}

function square([x, y]: Point, width: number, height: number): Point[] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}
