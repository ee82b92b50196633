/** Works the book out again where the rules of this build are others than those it was derived by.

All is derived from the lines in a second database beside the book, part by part, so that a page
that was killed goes on where it was. What then differs is written to the book in one transaction;
until that it is as it was. Lines, files, drafts, what waits and the cursor stay untouched. */

import { fromLine } from '@sync/entry';
import { BookStore } from './database';
import { DERIVED_STORES, fileCame, filesNamedBy, namedFiles, takeIn } from './derive';
import { type Differences, differences, takeOver } from './differences';
import { keysOf, partsOf, rowsOf } from './parts';
import { databaseName, deleteDB, type WriteTransaction } from './schema';
import type { Arrival } from './shelf';

/** Records of defects worked out, of how many there are. */
export interface Progress {
  done: number;
  of: number;
}

/** Entries at a time: few enough that a killed page loses little, enough to be quick. */
const PART = 500;

/** Whether a store was derived by these rules; an empty one takes them at once. */
export async function isWorkedOut(store: BookStore, rules: string): Promise<boolean> {
  const [kept, unfinished] = await store.read(['meta'], (tx) =>
    Promise.all([tx.objectStore('meta').get('rules'), tx.objectStore('meta').get('again')]),
  );
  if (kept === rules && unfinished) await forget(store);
  if (kept === rules) return true;
  if ((await store.read(['entries'], (tx) => tx.objectStore('entries').count())) > 0) return false;
  await store.write(['meta'], (tx) => tx.objectStore('meta').put(rules, 'rules'));
  return true;
}

/** Derives everything by these rules, `part` entries at a time. One page only may do so. */
export async function workOutAgain(
  store: BookStore,
  rules: string,
  tell: (progress: Progress) => void = () => {},
  part = PART,
): Promise<void> {
  await store.write(['meta'], (tx) => tx.objectStore('meta').put(true, 'again'));
  const beside = new BookStore(besideName(store));
  try {
    await begin(store, beside, rules);
    // Another tab of an older build may write meanwhile where a browser has no locks.
    let found: Differences | null = null;
    do {
      await derive(store, beside, tell, part);
      found = await differences(store, beside);
    } while (!found || !(await takeOver(store, found, rules)));
  } finally {
    await beside.close();
  }
  await forget(store);
}

/** Gives the second database back, with the room it takes. */
export async function forget(store: BookStore): Promise<void> {
  await deleteDB(databaseName(besideName(store)));
  await store.write(['meta'], (tx) => tx.objectStore('meta').delete('again'));
}

const besideName = (store: BookStore) => `${store.book} again`;

/** Goes on with what these rules began; what other rules began is emptied. */
async function begin(store: BookStore, beside: BookStore, rules: string): Promise<void> {
  const [root, refused] = await store.read(['meta', 'refused'], (tx) =>
    Promise.all([tx.objectStore('meta').get('root'), tx.objectStore('refused').getAll()]),
  );
  await beside.write(DERIVED_STORES, async (tx) => {
    if ((await tx.objectStore('meta').get('rules')) !== rules)
      await Promise.all(DERIVED_STORES.map((name) => tx.objectStore(name).clear()));
    await Promise.all(refused.map((row) => tx.objectStore('refused').put(row)));
    if (root) await tx.objectStore('meta').put(root, 'root');
    await tx.objectStore('meta').put(rules, 'rules');
  });
}

async function derive(
  store: BookStore,
  beside: BookStore,
  tell: (progress: Progress) => void,
  part: number,
): Promise<void> {
  const [all, here] = await Promise.all([keysOf(store, 'entries'), keysOf(beside, 'entries')]);
  const derived = new Set(here);
  const lacking = all.filter((id) => !derived.has(id));
  const lasts = await lastEntries(store, all);
  let done = lacking.reduce((left, id) => (lasts.has(id) ? left - 1 : left), lasts.size);
  tell({ done, of: lasts.size });
  for (const ids of partsOf(lacking, part)) {
    await take(store, beside, ids);
    for (const id of ids) if (lasts.has(id)) done += 1;
    tell({ done, of: lasts.size });
  }
  await takeFiles(store, beside);
}

/** The last entry of every defect: with it the record is worked out. */
async function lastEntries(store: BookStore, ids: readonly string[]): Promise<Set<string>> {
  const last = new Map<string, string>();
  for (const part of partsOf(ids, PART))
    for (const { id, kind, record } of (await rowsOf(store, 'entries', part)).values())
      if (kind === 'defect') last.set(record, id);
  return new Set(last.values());
}

async function take(store: BookStore, beside: BookStore, ids: readonly string[]): Promise<void> {
  const rows = await rowsOf(store, 'entries', ids);
  const arrivals: Arrival[] = [...rows.values()].map(({ line, sha256, came_ms }) => {
    return { entry: fromLine(line), line, sha256, came_ms };
  });
  const named = await filesOf(store, filesNamedBy(arrivals.map(({ entry }) => entry)));
  await beside.write(DERIVED_STORES, async (tx) => {
    await putFiles(tx, named);
    await takeIn(tx, arrivals);
  });
}

/** What the book has of the files that are still lacked beside it. */
async function takeFiles(store: BookStore, beside: BookStore): Promise<void> {
  const named = await beside.read(DERIVED_STORES, namedFiles);
  for (const file of await filesOf(store, named))
    await beside.write(DERIVED_STORES, async (tx) => {
      await putFiles(tx, [file]);
      await fileCame(tx, file[0]);
    });
}

type File = readonly [sha256: string, bytes: ArrayBuffer];

async function filesOf(store: BookStore, named: Iterable<string>): Promise<File[]> {
  const hashes = [...named];
  if (hashes.length === 0) return [];
  const found = await store.read(['files'], (tx) =>
    Promise.all(hashes.map((sha256) => tx.objectStore('files').get(sha256))),
  );
  return hashes.flatMap((sha256, at) => {
    const bytes = found[at];
    return bytes ? [[sha256, bytes] as const] : [];
  });
}

async function putFiles(tx: WriteTransaction, files: readonly File[]): Promise<void> {
  await Promise.all(files.map(([sha256, bytes]) => tx.objectStore('files').put(bytes, sha256)));
}
