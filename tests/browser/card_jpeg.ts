// A photograph of the scale card, drawn by code at any size and stored in any orientation.
import type { Page } from 'playwright-core';
import { apply, type Point } from '../../frontend/src/domain/photo_geometry';
import { drawn, viewThrough } from '../frontend/imaging/card_drawn';

/** The picture once, and where the corners of the card lie in it. */
export const SIZE = { width: 800, height: 600 };
export const CORNERS: Point[] = [
  [171.2, 150.4],
  [602.8, 96.1],
  [655.9, 452.6],
  [118.7, 398.3],
];

const VIEW = viewThrough(CORNERS);
const SEEN = drawn(SIZE.width, SIZE.height, [VIEW]);
const GREY = Buffer.from(SEEN.data.filter((_, at) => at % 4 === 0)).toString('base64');

/** Where the picture shows a point of the card's plane, mm from the card's upper left. */
export function seenAt(mm: Point): Point {
  return apply(VIEW, mm);
}

export interface CardJpeg {
  /** 1 to 8, as an orientation of EXIF asks for. */
  orientation: number;
  /** How many times as large as `SIZE`. */
  by: number;
  /** Fine crosses, px of the picture once. */
  crosses?: readonly Point[];
}

/** The card as a JPEG; the page must count its canvases, for this one draws on uncounted ones. */
export async function cardJpeg(page: Page, how: CardJpeg): Promise<Buffer> {
  const { orientation, by, crosses = [] } = how;
  const asked = { grey: GREY, ...SIZE, turn: orientation, times: by, crosses };
  const jpeg = Buffer.from(await page.evaluate(drawnInPage, asked), 'base64');
  const tiff = [0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 1, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation];
  const exif = Buffer.from([...Buffer.from('Exif\0\0'), ...tiff, 0, 0, 0, 0, 0, 0]);
  const head = Buffer.from([0xff, 0xe1, 0, exif.length + 2]);
  return Buffer.concat([jpeg.subarray(0, 2), head, exif, jpeg.subarray(2)]);
}

interface Asked {
  grey: string;
  width: number;
  height: number;
  turn: number;
  times: number;
  crosses: readonly Point[];
}

/** Runs in the page. */
async function drawnInPage({ grey, width, height, turn, times, crosses }: Asked): Promise<string> {
  const { Plain } = window as unknown as { Plain: typeof OffscreenCanvas };
  const bytes = Uint8Array.from(atob(grey), (one) => one.charCodeAt(0));
  const small = new Plain(width, height);
  const pen = small.getContext('2d') as OffscreenCanvasRenderingContext2D;
  const image = pen.createImageData(width, height);
  for (const [at, one] of bytes.entries()) image.data.set([one, one, one, 255], at * 4);
  pen.putImageData(image, 0, 0);
  const [wide, high] = turn >= 5 ? [height, width] : [width, height];
  const stored = new Plain(wide * times, high * times);
  const to = stored.getContext('2d') as OffscreenCanvasRenderingContext2D;
  // From what is seen to what is stored: the inverse of what each orientation asks for.
  const [w, h] = [width, height];
  const back: Record<number, [number, number, number, number, number, number]> = {
    1: [1, 0, 0, 1, 0, 0],
    2: [-1, 0, 0, 1, w, 0],
    3: [-1, 0, 0, -1, w, h],
    4: [1, 0, 0, -1, 0, h],
    5: [0, 1, 1, 0, 0, 0],
    6: [0, -1, 1, 0, 0, w],
    7: [0, -1, -1, 0, h, w],
    8: [0, 1, -1, 0, h, 0],
  };
  const [a, b, c, d, e, f] = back[turn] as [number, number, number, number, number, number];
  to.setTransform(a * times, b * times, c * times, d * times, e * times, f * times);
  to.drawImage(small, 0, 0);
  to.lineWidth = 0.2;
  for (const [x, y] of crosses) {
    to.moveTo(x - 6, y);
    to.lineTo(x + 6, y);
    to.moveTo(x, y - 6);
    to.lineTo(x, y + 6);
  }
  to.stroke();
  const jpeg = await stored.convertToBlob({ type: 'image/jpeg', quality: 0.92 });
  small.width = stored.width = 0;
  const held = new Uint8Array(await jpeg.arrayBuffer());
  let text = '';
  for (let at = 0; at < held.length; at += 8192)
    text += String.fromCharCode(...held.subarray(at, at + 8192));
  return btoa(text);
}
