/** Pixels of an upright picture or of a part of it, on a small canvas that is given back at once. */

import type { Pixels } from './card_markers';

/** A part of an upright picture, whole pixels. */
export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Returns the pixels of a part; its longest side is made no longer than `most_px`.

The original is never drawn as a whole: the decoder hands out the part, made smaller. */
export async function pixelsOf(picture: Blob, box: Box, most_px: number): Promise<Pixels> {
  const share = Math.min(1, most_px / Math.max(box.width, box.height));
  const width = Math.max(1, Math.round(box.width * share));
  const height = Math.max(1, Math.round(box.height * share));
  const bitmap = await createImageBitmap(picture, box.x, box.y, box.width, box.height, {
    imageOrientation: 'from-image',
    resizeWidth: width,
    resizeHeight: height,
    resizeQuality: 'high',
  });
  const canvas = new OffscreenCanvas(width, height);
  try {
    const ground = canvas.getContext('2d', { willReadFrequently: true });
    if (!ground) throw new Error('This browser gives no canvas.');
    ground.drawImage(bitmap, 0, 0);
    return ground.getImageData(0, 0, width, height);
  } finally {
    bitmap.close();
    // A canvas keeps its memory until it is collected, unless it has no size.
    canvas.width = 0;
    canvas.height = 0;
  }
}
