/** Whether browser and server still hold the same entries: a log that was put back in silence, and
filled again by others, may hold at a cursor the very entry that was fetched there. */

import { sha256Hex } from '@sync/canonical';
import { Refused } from '../domain/errors';
import type { BookStore } from '../storage/database';
import { OUTBOX_STORES, readOutbox } from '../storage/outbox';
import type { Server } from './server';

interface Digest {
  epoch: string;
  entries: number;
  sha256: string;
}

/** The two digests, where the server's log holds other entries than this browser has of it; null
where it does not, and while they can't be compared, for something is to be sent or fetched. */
export async function holdsOther(store: BookStore, server: Server): Promise<string | null> {
  const mine = await digestHere(store);
  if (mine === null) return null;
  const query = new URLSearchParams({ book: store.book, upto: String(mine.upto) });
  try {
    const told = await server.get<Digest & Record<string, never>>(`/api/entries/digest?${query}`);
    const isOther = told.epoch === mine.epoch && told.sha256 !== mine.sha256;
    return isOther ? `${told.sha256} ${mine.sha256}` : null;
  } catch (error) {
    // A server of an older release is not asked.
    if (error instanceof Refused && error.code === 'no_such_address') return null;
    throw error;
  }
}

async function digestHere(store: BookStore) {
  const found = await store.read([...OUTBOX_STORES, 'entries'], async (tx) => {
    const outbox = await readOutbox(tx, store.book);
    return { outbox, ids: await tx.objectStore('entries').getAllKeys() };
  });
  const { cursor, sent, unsent, refused } = found.outbox;
  if (sent.length + unsent.length > 0) return null;
  // Of an entry refused for other bytes the server has one with its id.
  const isThere = (id: string) => (refused[id]?.code ?? 'other_bytes') === 'other_bytes';
  const ids = found.ids.filter(isThere);
  const sha256 = await sha256Hex(ids.join('\n'), crypto.subtle);
  return { epoch: cursor.epoch, upto: cursor.seq, sha256 };
}
