// A second store with all that a first one holds, as the image of a tablet's disk put on another.
import { IDBFactory } from 'fake-indexeddb';
import { type IDBPDatabase, openDB } from 'idb';

type In = <T>(store: IDBFactory, work: () => Promise<T>) => Promise<T>;

/** Copies every database of a store into a new one; `within` does work in a store. */
export async function cloned(from: IDBFactory, within: In): Promise<IDBFactory> {
  const to = new IDBFactory();
  for (const { name = '', version } of await from.databases()) {
    const source = await within(from, () => openDB(name, version));
    const stores = await Promise.all([...source.objectStoreNames].map((one) => read(source, one)));
    source.close();
    const target = await within(to, () =>
      openDB(name, version, {
        upgrade(database) {
          for (const { store, path, indexes } of stores) {
            const made = database.createObjectStore(store, { keyPath: path });
            for (const { name, path, multiEntry } of indexes)
              made.createIndex(name, path, { multiEntry });
          }
        },
      }),
    );
    const tx = target.transaction(
      stores.map(({ store }) => store),
      'readwrite',
    );
    for (const { store, path, keys, values } of stores) {
      const put = (key: IDBValidKey, at: number) =>
        tx.objectStore(store).put(values[at], path === null ? key : undefined);
      await Promise.all(keys.map(put));
    }
    await tx.done;
    target.close();
  }
  return to;
}

async function read(source: IDBPDatabase, store: string) {
  const from = source.transaction(store).store;
  const shapes = [...from.indexNames].map((name) => from.index(name));
  const indexes = shapes.map(({ name, keyPath, multiEntry }) => ({
    ...{ name, multiEntry },
    path: keyPath,
  }));
  const [path, keys, values] = [from.keyPath, from.getAllKeys(), from.getAll()];
  return { store, path, indexes, keys: await keys, values: await values };
}
