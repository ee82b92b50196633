/** Reads a store part by part, so that no more of it is held than is needed. */

import type { BookStore } from './database';
import type { BookSchema, StoreName } from './schema';

/** The stores that are read in parts: their keys are texts. */
export type Keyed = Extract<StoreName, 'entries' | 'standing' | 'rows'>;
export type RowOf<N extends Keyed> = BookSchema[N]['value'];

/** The keys of a store in their order. */
export function keysOf(store: BookStore, name: Keyed): Promise<string[]> {
  return store.read([name], (tx) => tx.objectStore(name).getAllKeys());
}

/** A list in parts of a size. */
export function* partsOf<T>(list: readonly T[], size: number): Generator<T[]> {
  for (let at = 0; at < list.length; at += size) yield list.slice(at, at + size);
}

/** The rows of some keys in order, by key; a key that is not here has none. */
export async function rowsOf<N extends Keyed>(
  store: BookStore,
  name: N,
  keys: readonly string[],
): Promise<Map<string, RowOf<N>>> {
  const [first, last] = [keys[0], keys.at(-1)];
  if (first === undefined) return new Map();
  const asked = new Set(keys);
  const found = await store.read([name], (tx) =>
    tx.objectStore(name).getAll(IDBKeyRange.bound(first, last)),
  );
  const pairs = found.map((row) => ['id' in row ? row.id : row.record, row as RowOf<N>] as const);
  return new Map(pairs.filter(([key]) => asked.has(key)));
}
