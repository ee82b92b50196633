/** Reads the rows of a whole book without holding up the page or whoever writes meanwhile. */

import type { BookStore } from './database';
import type { RowKept } from './schema';

/** Rows at a time: a slow tablet unpacks so many in less than 50 ms, and answers keys between. */
const PART = 250;

export interface RowList {
  /** In the order in which they were last written. */
  rows: RowKept[];
  /** Rows written after this time must still be read: they may lack here, or be older here. */
  at: number;
}

/** Every row, `part` of them in each transaction. */
export async function everyRow(store: BookStore, part = PART): Promise<RowList> {
  const at = await store.read(['rows'], async (tx) => {
    const newest = await tx.objectStore('rows').index('at').openKeyCursor(null, 'prev');
    return newest?.key ?? 0;
  });
  const rows: RowKept[] = [];
  for (let after: IDBKeyRange | null = null; ; ) {
    const found: RowKept[] = await store.read(['rows'], (tx) =>
      tx.objectStore('rows').getAll(after, part),
    );
    rows.push(...found);
    const last = found.at(-1);
    if (!last || found.length < part) break;
    after = IDBKeyRange.lowerBound(last.record, true);
  }
  return { rows: rows.sort((one, other) => one.at - other.at), at };
}
