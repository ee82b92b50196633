/** Finds the printed scale card in a photograph, in a worker that lives for that one question. */

import { Refused } from '../domain/errors';
import type { FoundCard } from './card_found';

export type { FoundCard } from './card_found';

export type Answer =
  | { found: FoundCard }
  | { refused: { code: string; message: string; hint: string } };

const TIME_LIMIT_MS = 30_000;

/** Returns the card in a photograph; corners are upright pixels of the original.

Refused: `no_card`, `two_cards`, `card_not_flat`; `unreadable_picture` where this browser can't
decode it, or takes too long. */
export async function findCard(picture: Blob): Promise<FoundCard> {
  const worker = new Worker(new URL('./find_card_worker.ts', import.meta.url), { type: 'module' });
  try {
    const answer = await answerOf(worker, picture);
    if ('found' in answer) return answer.found;
    const { code, message, hint } = answer.refused;
    throw new Refused(code, message, hint);
  } finally {
    worker.terminate();
  }
}

function answerOf(worker: Worker, picture: Blob): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(unreadable()), TIME_LIMIT_MS);
    const done = () => clearTimeout(late);
    worker.onmessage = ({ data }: MessageEvent<Answer>) => {
      done();
      resolve(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      done();
      reject(unreadable());
    };
    worker.postMessage(picture);
  });
}

export function unreadable(): Refused {
  return new Refused(
    'unreadable_picture',
    'This browser could not read the photograph to look for the card.',
    'Touch two points of known distance instead.',
  );
}
