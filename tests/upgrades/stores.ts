// A browser's database as text, and text as a database: every store, index, key and value.
import { openDB } from 'idb';

export interface KeptIndex {
  name: string;
  path: string | string[];
  multi: boolean;
}

export interface KeptStore {
  name: string;
  path: string | string[] | null;
  indexes: KeptIndex[];
  rows: [key: unknown, value: unknown][];
}

export interface KeptDatabase {
  name: string;
  version: number;
  stores: KeptStore[];
}

/** Reads a database whole. A private key can't be read out: it is left as a mark. */
export async function readDatabase(name: string): Promise<KeptDatabase> {
  const database = await openDB(name);
  const stores: KeptStore[] = [];
  for (const each of [...database.objectStoreNames].sort()) {
    const store = database.transaction(each).store;
    const indexes = [...store.indexNames].sort().map((one) => {
      const { keyPath, multiEntry } = store.index(one);
      return { name: one, path: keyPath, multi: multiEntry };
    });
    const [keys, values] = [await store.getAllKeys(), await store.getAll()];
    const rows = keys.map((key, at) => [key, values[at]] as [unknown, unknown]);
    stores.push({ name: each, path: store.keyPath, indexes, rows });
  }
  const { version } = database;
  database.close();
  return { name, version, stores };
}

/** Makes a database of its version, as the app of that release did. */
export async function makeDatabase(kept: KeptDatabase): Promise<void> {
  const database = await openDB(kept.name, kept.version, {
    upgrade(fresh) {
      for (const { name, path, indexes } of kept.stores) {
        const store = fresh.createObjectStore(name, { keyPath: path });
        for (const one of indexes) store.createIndex(one.name, one.path, { multiEntry: one.multi });
      }
    },
  });
  for (const { name, path, rows } of kept.stores)
    for (const [key, value] of rows)
      await database.put(name, value, path === null ? (key as IDBValidKey) : undefined);
  database.close();
}

/** A database as JSON; bytes in base64. */
export function toText(kept: KeptDatabase): string {
  return JSON.stringify(kept, (_, value) => {
    if (value instanceof ArrayBuffer) return { $bytes: Buffer.from(value).toString('base64') };
    return value instanceof CryptoKey ? { $key: 'private' } : value;
  });
}

/** The database again; `key` stands for the private key that could not be kept. */
export function fromText(text: string, key: CryptoKey): KeptDatabase {
  return JSON.parse(text, (_, value) => {
    if (typeof value?.$bytes === 'string')
      return new Uint8Array(Buffer.from(value.$bytes, 'base64')).buffer;
    return value?.$key === 'private' ? key : value;
  });
}
