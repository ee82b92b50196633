/** The scale card in a picture: its corners, from the corners of its markers. */

import { Refused } from '../domain/errors';
import { apply, fitHomography, type Point, residualRms } from '../domain/photo_geometry';
import { CARD, type CardMarker, cardCorners, markerCorners } from '../domain/scale_card';
import { markersIn, type Pixels, type Seen } from './card_markers';
import { edgeCorners } from './edge_corners';
import { type Box, MOST_PX } from './pixels';

/** A card that was found; points are upright pixels of the original, counted from its corner. */
export interface FoundCard {
  /** Corners of the card, clockwise from its upper left as it is read. */
  corners: Point[];
  /** How far the corners of the markers lie off where the card's layout puts them, root of the
  mean squares, px. */
  residual_px: number;
  /** Markers that were found. */
  ids: number[];
}

/** The pixels of a part of the original, upright; made smaller where it is very large. */
export type Crop = (box: Box) => Promise<Pixels>;

export const LEAST_MARKERS = 3;
export const MOST_RESIDUAL_PX = 1;

/** Finds the card: roughly in a small copy, then on crops of the original.

`small` is the upright original, made smaller; `size` is the original's own. Refused: `no_card`,
`two_cards`, `card_not_flat`. */
export async function cardIn(
  small: Pixels,
  size: { width: number; height: number },
  crop: Crop,
): Promise<FoundCard> {
  const seen = markersIn(small);
  refuseTwice(seen);
  const scale: Point = [size.width / small.width, size.height / small.height];
  const found: Seen[] = [];
  for (const { id, corners } of seen) {
    const rough = corners.map(([x, y]): Point => [x * scale[0], y * scale[1]]);
    const exact = await refined(rough, Math.max(...scale), size, crop);
    if (exact) found.push({ id, corners: exact });
  }
  // A picture that was made smaller to be decoded is read no finer than it was decoded.
  const coarser = Math.max(1, Math.sqrt((size.width * size.height) / MOST_PX));
  return laid(found, MOST_RESIDUAL_PX * coarser);
}

async function refined(
  rough: Point[],
  scale: number,
  size: { width: number; height: number },
  crop: Crop,
): Promise<Point[] | null> {
  // A contour of the small copy is off by a pixel and a half of it, and by its blur.
  const reach_px = 2 + 2 * scale;
  const box = boxOf(rough, 3 * reach_px, size);
  const part = await crop(box);
  const [across, down] = [part.width / box.width, part.height / box.height];
  const there = rough.map(([x, y]): Point => [(x - box.x) * across, (y - box.y) * down]);
  const exact = edgeCorners(part, there, reach_px * across);
  return exact?.map(([x, y]): Point => [x / across + box.x, y / down + box.y]) ?? null;
}

function boxOf(points: Point[], room: number, size: { width: number; height: number }): Box {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const x = Math.max(0, Math.floor(Math.min(...xs) - room));
  const y = Math.max(0, Math.floor(Math.min(...ys) - room));
  const right = Math.min(size.width, Math.ceil(Math.max(...xs) + room));
  const lower = Math.min(size.height, Math.ceil(Math.max(...ys) + room));
  return { x, y, width: right - x, height: lower - y };
}

/** Lays the layout of the card on the markers that were found. */
function laid(found: Seen[], most_px: number): FoundCard {
  if (found.length < LEAST_MARKERS) throw noCard(found.length);
  const byId = new Map(CARD.markers.map((one) => [one.id, one]));
  const there = found.flatMap(({ id }) => markerCorners(byId.get(id) as CardMarker));
  const here = found.flatMap(({ corners }) => corners);
  const toPicture = fitHomography(there, here);
  const residual_px = residualRms(toPicture, there, here);
  if (residual_px > most_px) {
    throw new Refused(
      'card_not_flat',
      `The markers of the card do not lie in one plane: they are off by ${residual_px.toFixed(1)} px, ${most_px.toFixed(1)} px is allowed.`,
      'Lay the card flat, nearer to the middle of the picture, and take it again.',
    );
  }
  const corners = cardCorners().map((one): Point => apply(toPicture, one));
  return { corners, residual_px, ids: found.map(({ id }) => id).sort((a, b) => a - b) };
}

function refuseTwice(seen: Seen[]): void {
  const twice = seen.find((one, at) => seen.findIndex(({ id }) => id === one.id) < at);
  if (!twice) return;
  throw new Refused(
    'two_cards',
    `Marker ${twice.id} is in the picture twice.`,
    'Take it again with one card, or touch two points of known distance.',
  );
}

function noCard(found: number): Refused {
  return new Refused(
    'no_card',
    `${found} of the ${CARD.markers.length} markers of the scale card are seen, ${LEAST_MARKERS} are needed.`,
    'Touch two points of known distance instead, or take the picture again with the whole card in it.',
  );
}
