/** What a browser remembers of the server, read and written inside one transaction. */

import type { Held, Outbox } from '@sync/exchange';
import { newOutbox } from '@sync/exchange';
import type { StoreName, Transaction, WriteTransaction } from './schema';

/** Stores an outbox lies in. */
export const OUTBOX_STORES: StoreName[] = ['meta', 'unsent', 'refused'];

const KEY = 'outbox';
type Kept = Pick<Outbox, 'cursor' | 'sent' | 'ask_files'>;

/** Reads the outbox of a book. */
export async function readOutbox(tx: Transaction, book: string): Promise<Outbox> {
  const [kept, unsent, refused] = await Promise.all([
    tx.objectStore('meta').get(KEY) as Promise<Kept | undefined>,
    tx.objectStore('unsent').getAllKeys(),
    tx.objectStore('refused').getAll(),
  ]);
  const reasons = refused.map(({ id, code, reason }) => [id, { code, reason }] as const);
  return { ...newOutbox(book), ...kept, unsent, refused: Object.fromEntries(reasons) };
}

/** Reads what batches must know of the entries not yet sent, in the order of their ids. */
export async function readHeld(tx: Transaction): Promise<Held[]> {
  return tx.objectStore('unsent').getAll();
}

/** Writes an outbox over the one that was read in the same transaction. */
export async function writeOutbox(
  tx: WriteTransaction,
  before: Outbox,
  after: Outbox,
): Promise<void> {
  const { cursor, sent, ask_files } = after;
  const kept: Kept = { cursor, sent: [...sent], ask_files };
  const now = new Set(after.unsent);
  const had = new Set(before.unsent);
  const gone = before.unsent.filter((id) => !now.has(id));
  const come = after.unsent.filter((id) => !had.has(id));
  await Promise.all([
    tx.objectStore('meta').put(kept, KEY),
    ...gone.map((id) => tx.objectStore('unsent').delete(id)),
    ...come.map((id) => putUnsent(tx, id)),
    putRefused(tx, before, after),
  ]);
}

async function putUnsent(tx: WriteTransaction, id: string): Promise<void> {
  const row = await tx.objectStore('entries').get(id);
  if (!row) return;
  const { record, kind, act, line, size_bytes } = row;
  const wall_ms = Date.parse((JSON.parse(line) as { wall: string }).wall);
  await tx.objectStore('unsent').put({ id, record, kind, act, size_bytes, wall_ms });
}

async function putRefused(tx: WriteTransaction, before: Outbox, after: Outbox): Promise<void> {
  for (const id of Object.keys(before.refused)) {
    if (!Object.hasOwn(after.refused, id)) await tx.objectStore('refused').delete(id);
  }
  for (const [id, { code, reason }] of Object.entries(after.refused)) {
    const row = await tx.objectStore('entries').get(id);
    if (!row) continue;
    const { n } = JSON.parse(row.line) as { n: number };
    await tx.objectStore('refused').put({ id, n, sha256: row.sha256, code, reason });
  }
}
