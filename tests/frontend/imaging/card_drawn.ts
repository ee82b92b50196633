/** Draws the scale card as a camera would see it: nine looks a pixel where the grey changes. */

import {
  apply,
  fitHomography,
  inverse,
  type Point,
  type Transform,
} from '../../../frontend/src/domain/photo_geometry';
import { CARD, cardCorners } from '../../../frontend/src/domain/scale_card';
import type { Pixels } from '../../../frontend/src/imaging/card_markers';
import type { Box } from '../../../frontend/src/imaging/pixels';

const LOOKS = [1 / 6, 3 / 6, 5 / 6];
const SKIN = 130;

export interface Drawn {
  /** Markers that something lies over. */
  covered?: number[];
  /** A bend: mm by which the right edge is lifted towards nothing, seen as a shift. */
  bent_mm?: number;
}

/** Where the corners of the card lie in the picture, clockwise from its upper left. */
export function viewThrough(corners: Point[]): Transform {
  return fitHomography(cardCorners(), corners);
}

export function drawn(width: number, height: number, views: Transform[], how: Drawn = {}): Pixels {
  const back = views.map((view) => inverse(view));
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  const row = (y: number) => Array.from({ length: width + 1 }, (_, x) => greyOf(back, [x, y], how));
  let upper = row(0);
  for (let y = 0; y < height; y += 1) {
    const lower = row(y + 1);
    for (let x = 0; x < width; x += 1) {
      const round = [upper[x], upper[x + 1], lower[x], lower[x + 1]];
      const plain = round.every((one) => one === round[0]);
      const grey = plain ? (round[0] as number) : lookedAt(back, x, y, how);
      const at = (y * width + x) * 4;
      data[at] = data[at + 1] = data[at + 2] = grey;
    }
    upper = lower;
  }
  return { width, height, data };
}

function lookedAt(back: Transform[], x: number, y: number, how: Drawn): number {
  let sum = 0;
  for (const down of LOOKS) {
    for (const across of LOOKS) sum += greyOf(back, [x + across, y + down], how);
  }
  return sum / 9;
}

function greyOf(back: Transform[], at: Point, how: Drawn): number {
  for (const one of back) {
    const [x, y] = apply(one, at);
    if (x < 0 || y < 0 || x > CARD.width_mm || y > CARD.height_mm) continue;
    const lifted = x > CARD.width_mm / 2 && y > CARD.height_mm / 2 ? (how.bent_mm ?? 0) : 0;
    return inkAt(x + lifted, y, how.covered ?? []) ? 35 : 225;
  }
  return SKIN;
}

function inkAt(x: number, y: number, covered: number[]): boolean {
  for (const { id, code, at_mm } of CARD.markers) {
    const column = Math.floor(((x - (at_mm[0] as number)) / CARD.side_mm) * 8);
    const row = Math.floor(((y - (at_mm[1] as number)) / CARD.side_mm) * 8);
    if (column < 0 || row < 0 || column > 7 || row > 7) continue;
    if (covered.includes(id) || column % 7 === 0 || row % 7 === 0) return true;
    return Math.floor(Number.parseInt(code, 16) / 2 ** (35 - (row - 1) * 6 - column + 1)) % 2 === 0;
  }
  return false;
}

/** The picture made smaller by a whole number, as a browser does it. */
export function smaller({ width, height, data }: Pixels, by: number): Pixels {
  const [across, down] = [Math.floor(width / by), Math.floor(height / by)];
  const out = new Uint8ClampedArray(across * down * 4).fill(255);
  for (let y = 0; y < down; y += 1) {
    for (let x = 0; x < across; x += 1) {
      let sum = 0;
      for (let each = 0; each < by * by; each += 1) {
        const [dx, dy] = [each % by, Math.floor(each / by)];
        sum += data[((y * by + dy) * width + x * by + dx) * 4] as number;
      }
      out.fill(sum / by / by, (y * across + x) * 4, (y * across + x) * 4 + 3);
    }
  }
  return { width: across, height: down, data: out };
}

/** Crops as the browser hands them out. */
export function cropsOf({ width, data }: Pixels): (box: Box) => Promise<Pixels> {
  return async (box) => {
    const part = new Uint8ClampedArray(box.width * box.height * 4);
    for (let y = 0; y < box.height; y += 1) {
      const from = ((box.y + y) * width + box.x) * 4;
      part.set(data.subarray(from, from + box.width * 4), y * box.width * 4);
    }
    return { width: box.width, height: box.height, data: part };
  };
}
