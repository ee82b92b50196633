import 'fake-indexeddb/auto';
import { afterEach, describe, expect, it } from 'vitest';
import { isWorkedOut, type Progress, workOutAgain } from '../../../frontend/src/storage/again';
import { BookStore } from '../../../frontend/src/storage/database';
import { type Arrival, DERIVED_STORES, takeIn } from '../../../frontend/src/storage/derive';
import type { StoreName } from '../../../frontend/src/storage/schema';
import qs7 from '../../../sample_data/skinpin_demo/data/standard_qs7.json';
import { seeded } from '../services/bench';
import { fillUp } from './broken';
import { DESIGN, Scene } from './scene';

const QS7_SHA256 = '7'.repeat(64);
const KEPT: StoreName[] = [
  ...(['unsent', 'unsent_files', 'refused', 'files', 'renditions', 'drafts', 'people'] as const),
];
const stores: BookStore[] = [];
let count = 0;

function newStore(): BookStore {
  count += 1;
  stores.push(new BookStore(`again${count}`));
  return stores.at(-1) as BookStore;
}
afterEach(async () => {
  for (const store of stores.splice(0)) await store.close();
});

/** A book as it came, part by part and out of order, in a store that other work lies in too. */
async function bookOf(seed: number, steps = 40) {
  console.log(`seed ${seed}`);
  const scene = new Scene(seeded(seed));
  await scene.setUp();
  for (let n = 0; n < steps; n += 1) await scene.step();
  await withRivets(scene);
  const store = newStore();
  const bytes = new TextEncoder().encode(JSON.stringify(qs7)).buffer as ArrayBuffer;
  await store.write(['files'], (tx) => tx.objectStore('files').put(bytes, QS7_SHA256));
  const [root, ...rest] = scene.all as [Arrival, ...Arrival[]];
  const mixed = rest.map((one) => [scene.random(), one] as const).sort(([a], [b]) => a - b);
  await store.write(DERIVED_STORES, (tx) => takeIn(tx, [root]));
  for (let at = 0; at < mixed.length; at += 5) {
    const part = mixed.slice(at, at + 5).map(([, one]) => one);
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, part));
  }
  await addWork(store, scene.all);
  await store.write(['meta'], (tx) => tx.objectStore('meta').put('old', 'rules'));
  return { scene, store };
}

/** A graded record: its row hangs on a file. */
async function withRivets(scene: Scene): Promise<void> {
  const relies = [scene.roles.lead as string];
  const standard = { name: 'QS-7', issue: '1', sha256: QS7_SHA256 };
  const loose = { number: 'A/0071', kind: 'loose rivets', material: 'AL', run: 1, standard };
  const set = { ...loose, state: { move: 'new', to: 'Draft' } };
  await scene.act('A', 'lead', [{ record: 'd9', kind: 'defect', set, relies }]);
  const line = { defect: 'd9', as_found: 'LSLSLSSS', design: DESIGN };
  await scene.act('A', 'lead', [{ record: 'r9', kind: 'rivet_line', set: line }]);
}

/** What is not derived: work not sent, drafts, the cursor and files. */
async function addWork(store: BookStore, all: readonly Arrival[]): Promise<void> {
  const photograph = crypto.getRandomValues(new Uint8Array(900)).buffer;
  await store.write([...KEPT, 'meta'], async (tx) => {
    for (const { entry, line } of all.slice(-7)) {
      const { id, record, kind } = entry;
      const row = { id, act: entry.act.id, record, kind, size_bytes: line.length, wall_ms: 5 };
      await tx.objectStore('unsent').put(row);
    }
    const file = { sha256: 'f'.repeat(64), size_bytes: 900, media_type: 'image/jpeg' };
    await tx.objectStore('unsent_files').put({ ...file, photographs: ['p1'], wall_ms: 6 });
    await tx.objectStore('files').put(photograph, file.sha256);
    await tx.objectStore('renditions').put(photograph, [file.sha256, 320]);
    await tx
      .objectStore('refused')
      .put({ ...{ id: 'r', n: 1, sha256: 's', code: 'c', reason: 'w' } });
    await tx.objectStore('drafts').put({ person: 'lead', screen: 'pad', value: { typed: '0.0' } });
    await tx.objectStore('people').put({ person: 'lead', name: 'L' });
    await tx.objectStore('meta').put({ cursor: { epoch: 'e', seq: 9, at: 'x' } }, 'outbox');
    await tx.objectStore('meta').put({ A: 9 }, 'numbers');
  });
}

/** Everything derived; lists inside are sets, and have no order of their own. */
async function derived(store: BookStore) {
  return store.read(['entries', 'standing', 'rows'], async (tx) => ({
    entries: (await tx.objectStore('entries').getAll()).map((row) => ({
      ...row,
      refers: [...row.refers].sort(),
    })),
    standing: (await tx.objectStore('standing').getAll()).map((row) => ({
      ...row,
      names: [...row.names].sort(),
    })),
    rows: (await tx.objectStore('rows').getAll()).map(({ at: _at, ...row }) => row),
  }));
}

/** Everything that is not derived, to the byte. */
async function kept(store: BookStore) {
  return store.read([...KEPT, 'meta', 'entries'], async (tx) => {
    const all = await Promise.all(
      KEPT.map(async (name) => [
        await tx.objectStore(name).getAllKeys(),
        (await tx.objectStore(name).getAll()).map(bytesOf),
      ]),
    );
    const lines = (await tx.objectStore('entries').getAll()).map(({ line, sha256 }) => [
      line,
      sha256,
    ]);
    const meta = ['outbox', 'numbers', 'root'].map((key) => tx.objectStore('meta').get(key));
    return { all, lines, meta: await Promise.all(meta) };
  });
}

const bytesOf = (value: unknown) =>
  value instanceof ArrayBuffer ? [...new Uint8Array(value)] : value;

/** Leaves the store as a build with other rules would: wrong verdicts, values and rows. */
async function spoil(store: BookStore): Promise<void> {
  await store.write(['entries', 'standing', 'rows'], async (tx) => {
    const [entries, standing, rows] = await Promise.all([
      tx.objectStore('entries').getAll(),
      tx.objectStore('standing').getAll(),
      tx.objectStore('rows').getAll(),
    ]);
    for (const row of entries.filter(({ verdict }) => verdict).slice(0, 9))
      await tx.objectStore('entries').put({ ...row, verdict: { result: 'waits' }, refers: [] });
    for (const row of standing.slice(0, 4))
      await tx.objectStore('standing').put({ ...row, values: {}, awaited: ['nobody'] });
    await tx.objectStore('standing').delete(standing.at(-1)?.record as string);
    await tx
      .objectStore('standing')
      .put({ ...(standing[0] as never as object), record: 'ghost' } as never);
    await tx.objectStore('rows').put({ record: 'ghost', numbers: ['X0001'], at: 1, row: {} });
    for (const one of rows.slice(0, 2))
      await tx
        .objectStore('rows')
        .put({ ...one, numbers: [], row: { ...(one.row as object), state: 'Draft ?' } });
  });
}

const besideNames = async () =>
  (await indexedDB.databases()).map(({ name }) => name).filter((name) => name?.endsWith(' again'));

describe('working a book out again', { timeout: 30_000 }, () => {
  it.each([5, 12, 19, 26])('comes to what was kept as it came (seed %i)', async (seed) => {
    const { store } = await bookOf(seed);
    const [expected, before] = [await derived(store), await kept(store)];
    await spoil(store);
    expect(await derived(store)).not.toEqual(expected);
    await workOutAgain(store, 'new', () => {}, 7);
    expect(await derived(store)).toEqual(expected);
    expect(await kept(store)).toEqual(before);
    expect(await isWorkedOut(store, 'new')).toBe(true);
    expect(await isWorkedOut(store, 'newer')).toBe(false);
    expect(await besideNames()).toEqual([]);
  });

  it('writes the rows that differ as new, and leaves the others', async () => {
    const { store } = await bookOf(33);
    const rows = () => store.read(['rows'], (tx) => tx.objectStore('rows').getAll());
    const before = new Map((await rows()).map(({ record, at }) => [record, at]));
    const [spoilt] = await rows();
    await store.write(['rows'], (tx) =>
      tx.objectStore('rows').put({ ...(spoilt as never as object), row: {} } as never),
    );
    await workOutAgain(store, 'new');
    const later = (await rows()).filter(({ record, at }) => at > (before.get(record) as number));
    expect(later.map(({ record }) => record)).toEqual([spoilt?.record]);
    expect(later[0]?.row).toMatchObject({ record: spoilt?.record });
  });

  it.each([1, 3, 6])(
    'leaves the book as it was when the page is killed in part %i, and goes on from there',
    async (part) => {
      const { store } = await bookOf(40 + part);
      const expected = await derived(store);
      await spoil(store);
      const [spoilt, before] = [await derived(store), await kept(store)];
      const first: Progress[] = [];
      const killed = workOutAgain(
        store,
        'new',
        (step) => {
          first.push(step);
          if (first.length > part) throw new Error('killed');
        },
        7,
      );
      await expect(killed).rejects.toThrow('killed');
      expect(await derived(store)).toEqual(spoilt);
      expect(await kept(store)).toEqual(before);
      expect(await isWorkedOut(store, 'new')).toBe(false);
      const again: Progress[] = [];
      await workOutAgain(store, 'new', (step) => void again.push(step), 7);
      expect(again[0]).toEqual(first.at(-1));
      expect(again.at(-1)).toEqual({ done: 4, of: 4 });
      expect(again).toHaveLength(Math.ceil(spoilt.entries.length / 7) + 1 - part);
      expect(await derived(store)).toEqual(expected);
      expect(await kept(store)).toEqual(before);
    },
  );

  it('takes over all or nothing', async () => {
    const { store } = await bookOf(51);
    const expected = await derived(store);
    await spoil(store);
    const spoilt = await derived(store);
    const real = IDBObjectStore.prototype.delete;
    IDBObjectStore.prototype.delete = function (this: IDBObjectStore, key) {
      if (key === 'ghost' && this.name === 'rows') throw new DOMException('gone', 'AbortError');
      return real.call(this, key);
    };
    const failed = workOutAgain(store, 'new').finally(() => {
      IDBObjectStore.prototype.delete = real;
    });
    await expect(failed).rejects.toThrow('gone');
    expect(await derived(store)).toEqual(spoilt);
    expect(await isWorkedOut(store, 'new')).toBe(false);
    await workOutAgain(store, 'new');
    expect(await derived(store)).toEqual(expected);
  });

  it('begins anew when other rules had begun', async () => {
    const { store } = await bookOf(60);
    const expected = await derived(store);
    const stop = (steps: Progress[], at: number) => (step: Progress) => {
      steps.push(step);
      if (steps.length > at) throw new Error('killed');
    };
    const [first, second]: [Progress[], Progress[]] = [[], []];
    await expect(workOutAgain(store, 'new', stop(first, 4), 7)).rejects.toThrow('killed');
    expect(first.at(-1)?.done).toBeGreaterThanOrEqual(0);
    await expect(workOutAgain(store, 'newer', stop(second, 4), 7)).rejects.toThrow('killed');
    expect(second).toEqual(first);
    await workOutAgain(store, 'newer');
    expect(await derived(store)).toEqual(expected);
  });

  it('takes in what comes meanwhile where a browser has no locks', async () => {
    const { scene, store } = await bookOf(70);
    const length = scene.all.length;
    for (let n = 0; n < 6; n += 1) await scene.step();
    const late = scene.all.slice(length);
    const alone = newStore();
    for (const name of ['root'] as const) {
      const root = await store.read(['meta'], (tx) => tx.objectStore('meta').get(name));
      await alone.write(['meta'], (tx) => tx.objectStore('meta').put(root, name));
    }
    const bytes = await store.read(['files'], (tx) => tx.objectStore('files').get(QS7_SHA256));
    await alone.write(['files'], (tx) =>
      tx.objectStore('files').put(bytes as ArrayBuffer, QS7_SHA256),
    );
    await alone.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all));
    let arriving: Promise<unknown> | null = null;
    await workOutAgain(
      store,
      'new',
      () => {
        arriving ??= store.write(DERIVED_STORES, (tx) => takeIn(tx, late));
      },
      7,
    );
    await arriving;
    expect(await derived(store)).toEqual(await derived(alone));
  });

  it('gives back the room of what was finished just before the page was killed', async () => {
    const { store } = await bookOf(80);
    const real = indexedDB.deleteDatabase;
    indexedDB.deleteDatabase = () => {
      throw new Error('killed');
    };
    const killed = workOutAgain(store, 'new').finally(() => {
      indexedDB.deleteDatabase = real;
    });
    await expect(killed).rejects.toThrow('killed');
    expect(await besideNames()).toHaveLength(1);
    expect(await isWorkedOut(store, 'new')).toBe(true);
    expect(await besideNames()).toEqual([]);
  });

  it('refuses with a sentence where the tablet is full, and changes nothing', async () => {
    const { store } = await bookOf(90);
    await spoil(store);
    const [spoilt, before] = [await derived(store), await kept(store)];
    const stop = fillUp('rows');
    await expect(workOutAgain(store, 'new').finally(stop)).rejects.toMatchObject({ code: 'full' });
    expect(await derived(store)).toEqual(spoilt);
    expect(await kept(store)).toEqual(before);
  });
});

describe('a store that nothing came to yet', () => {
  it('takes the rules of the build at once', async () => {
    const store = newStore();
    expect(await isWorkedOut(store, 'new')).toBe(true);
    expect(await store.read(['meta'], (tx) => tx.objectStore('meta').get('rules'))).toBe('new');
  });
});
