/** Finds the markers of the scale card in a picture, roughly: to a pixel or two. */

import aruco from 'js-aruco2';
import type { Point } from '../domain/photo_geometry';
import { CARD } from '../domain/scale_card';

/** Pixels as a canvas gives them: red, green, blue and alpha, row by row. */
export interface Pixels {
  width: number;
  height: number;
  data: Uint8ClampedArray;
}

/** A marker that was seen: corners in pixels from the corner of the picture, clockwise from its own
upper left. */
export interface Seen {
  id: number;
  corners: Point[];
}

const NAME = 'SCALE_CARD';
/** Bits that may be misread: any two markers, turned or not, differ in 16. */
const WRONG_BITS = 3;
/** Below this no marker is large enough to be read. */
const LEAST_PX = 240;

/** Returns every marker of the card that is seen; one id more than once where there are two cards.

Blurred markers are found in a smaller copy, which is asked where the larger lacks one. */
export function markersIn(picture: Pixels): Seen[] {
  aruco.AR.DICTIONARIES[NAME] ??= {
    nBits: 36,
    tau: WRONG_BITS + 1,
    codeList: CARD.markers.map((one) => Number.parseInt(one.code, 16)),
  };
  const detector = new aruco.AR.Detector({ dictionaryName: NAME });
  const seen: Seen[] = [];
  let copy = picture;
  for (let scale = 1; Math.max(copy.width, copy.height) >= LEAST_PX; scale *= 2) {
    const before = new Set(seen.map((one) => one.id));
    const here = detector.detect(copy).map(({ id, corners }) => ({
      id: CARD.markers[id]?.id ?? -1,
      corners: corners.map(({ x, y }): Point => [(x + 0.5) * scale, (y + 0.5) * scale]),
    }));
    for (const one of here) if (!before.has(one.id)) addTo(seen, one);
    if (new Set(seen.map((one) => one.id)).size === CARD.markers.length) break;
    copy = halved(copy);
  }
  return seen;
}

/** Adds a marker; of one that is seen by both sides of its edge the larger is kept. */
function addTo(seen: Seen[], one: Seen): void {
  const at = seen.findIndex((other) => other.id === one.id && isSame(other, one));
  if (at < 0) seen.push(one);
  else if (perimeter(one) > perimeter(seen[at] as Seen)) seen[at] = one;
}

function isSame(one: Seen, other: Seen): boolean {
  const [[x, y], [u, v]] = [middle(one), middle(other)];
  return Math.hypot(x - u, y - v) < perimeter(one) / 8;
}

function middle({ corners }: Seen): Point {
  const mean = (axis: 0 | 1) => corners.reduce((sum, one) => sum + one[axis], 0) / corners.length;
  return [mean(0), mean(1)];
}

function perimeter({ corners }: Seen): number {
  return corners.reduce((sum, [x, y], at) => {
    const [u, v] = corners[(at + 1) % corners.length] as Point;
    return sum + Math.hypot(x - u, y - v);
  }, 0);
}

function halved({ width, height, data }: Pixels): Pixels {
  const [across, down] = [width >> 1, height >> 1];
  const smaller = new Uint8ClampedArray(across * down * 4);
  for (let y = 0; y < down; y += 1) {
    for (let x = 0; x < across; x += 1) {
      const from = (2 * y * width + 2 * x) * 4;
      const to = (y * across + x) * 4;
      for (let band = 0; band < 4; band += 1) {
        const at = from + band;
        const sum =
          (data[at] as number) +
          (data[at + 4] as number) +
          (data[at + width * 4] as number) +
          (data[at + width * 4 + 4] as number);
        smaller[to + band] = sum / 4;
      }
    }
  }
  return { width: across, height: down, data: smaller };
}
