/** Pixels of an upright picture or of a part of it, on a small canvas that is given back at once. */

import type { Pixels } from './card_markers';

/** No canvas and no decoded picture has more pixels than this: the smallest tablets give none. */
export const MOST_PX = 16_700_000;

export interface Size {
  width: number;
  height: number;
}

/** A part of an upright picture, whole pixels. */
export interface Box extends Size {
  x: number;
  y: number;
}

/** A picture that is decoded once; `close` gives its memory back. */
export interface OpenPicture {
  /** The pixels of a part of the original; its longest side is made no longer than `most_px`. */
  pixelsOf(box: Box, most_px: number): Pixels;
  close(): void;
}

/** Decodes a picture upright; `size` is its upright size. One that is very large is made smaller.

Parts are cut from what was decoded: asked for a part of a picture that its EXIF turns by a quarter,
some browsers hand out another part. */
export async function openPicture(picture: Blob, size: Size): Promise<OpenPicture> {
  const share = Math.min(1, Math.sqrt(MOST_PX / (size.width * size.height)));
  const smaller = {
    resizeWidth: Math.floor(size.width * share),
    resizeHeight: Math.floor(size.height * share),
    resizeQuality: 'high',
  } as const;
  const bitmap = await createImageBitmap(picture, {
    imageOrientation: 'from-image',
    ...(share < 1 ? smaller : {}),
  });
  const scale = [bitmap.width / size.width, bitmap.height / size.height] as const;
  return {
    pixelsOf: (box, most_px) => drawn(bitmap, scaled(box, scale), most_px),
    close: () => bitmap.close(),
  };
}

function scaled(box: Box, [across, down]: readonly [number, number]): Box {
  return {
    ...{ x: box.x * across, y: box.y * down },
    ...{ width: box.width * across, height: box.height * down },
  };
}

function drawn(bitmap: ImageBitmap, { x, y, width, height }: Box, most_px: number): Pixels {
  const share = Math.min(1, most_px / Math.max(width, height));
  const wide = Math.max(1, Math.round(width * share));
  const high = Math.max(1, Math.round(height * share));
  const canvas = new OffscreenCanvas(wide, high);
  try {
    const ground = canvas.getContext('2d', { willReadFrequently: true });
    if (!ground) throw new Error('This browser gives no canvas.');
    ground.imageSmoothingQuality = 'high';
    ground.drawImage(bitmap, x, y, width, height, 0, 0, wide, high);
    return ground.getImageData(0, 0, wide, high);
  } finally {
    // A canvas keeps its memory until it is collected, unless it has no size.
    canvas.width = 0;
    canvas.height = 0;
  }
}
