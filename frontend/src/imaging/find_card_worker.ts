/** The worker behind `findCard`: one photograph in, one answer out. */

import { Refused } from '../domain/errors';
import { cardIn } from './card_found';
import { type Answer, unreadable } from './find_card';
import { openPicture } from './pixels';
import { describePicture } from './upright';

/** Longest side of the copy in which the card is looked for, and of a crop of the original. */
const LOOK_PX = 1600;

self.onmessage = async ({ data }: MessageEvent<Blob>) => {
  self.postMessage(await answer(data));
};

async function answer(picture: Blob): Promise<Answer> {
  try {
    const size = await sizeOf(picture);
    const open = await openPicture(picture, size);
    try {
      const small = open.pixelsOf({ x: 0, y: 0, ...size }, LOOK_PX);
      return { found: await cardIn(small, size, async (box) => open.pixelsOf(box, LOOK_PX)) };
    } finally {
      open.close();
    }
  } catch (error) {
    const { code, message, hint } = error instanceof Refused ? error : unreadable();
    return { refused: { code, message, hint } };
  }
}

/** The upright size; of a format that is not read from its header the browser is asked. */
async function sizeOf(picture: Blob): Promise<{ width: number; height: number }> {
  const described = await describePicture(await picture.arrayBuffer());
  if (!described) throw unreadable();
  return { width: described.width_px, height: described.height_px };
}
