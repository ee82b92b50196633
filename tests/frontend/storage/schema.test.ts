import 'fake-indexeddb/auto';
import { readdirSync, readFileSync } from 'node:fs';
import { brotliDecompressSync } from 'node:zlib';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, it } from 'vitest';
import { type OpenShop, openShop } from '../../../frontend/src/services/open';
import { BookStore } from '../../../frontend/src/storage/database';
import { holdBook } from '../../../frontend/src/storage/registry';
import {
  type OpenHooks,
  openBookDatabase,
  type Step,
  VERSION,
} from '../../../frontend/src/storage/schema';
import {
  fromText,
  type KeptDatabase,
  type KeptStore,
  makeDatabase,
  readDatabase,
  toText,
} from '../../upgrades/stores';

const RELEASES = readdirSync('tests/upgrades/releases').filter((one) => /^\d+$/.test(one));
const QUIET: OpenHooks = { blocked() {}, blocking() {}, terminated() {} };

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

/** The store of a tablet of a release, with work that it had not sent. */
async function kept(release: string): Promise<KeptDatabase> {
  const packed = readFileSync(`tests/upgrades/releases/${release}/store.json.br`);
  const curve = { name: 'ECDSA', namedCurve: 'P-256' };
  const { privateKey } = await crypto.subtle.generateKey(curve, false, ['sign', 'verify']);
  return fromText(brotliDecompressSync(packed).toString(), privateKey);
}

const bookOf = ({ name }: KeptDatabase) => name.replace('skinpin-', '');
const rowsOf = (one: KeptDatabase, store: string) =>
  one.stores.find(({ name }) => name === store)?.rows ?? [];
const shapeOf = (one: KeptDatabase) =>
  one.stores.map(({ rows: _, ...shape }) => shape).sort((a, b) => (a.name < b.name ? -1 : 1));
/** What a person wrote or caught, and what proves the tablet: no build may change or lose it. */
const PRECIOUS = ['unsent', 'unsent_files', 'files', 'drafts', 'refused', 'people', 'renditions'];
const preciousOf = (one: KeptDatabase) => PRECIOUS.map((name) => asText(rowsOf(one, name)));
const asText = (rows: KeptStore['rows']) => {
  const store = { name: '', path: null, indexes: [], rows };
  return toText({ name: '', version: 0, stores: [store] });
};
const linesOf = (one: KeptDatabase) =>
  rowsOf(one, 'entries').map(([id, row]) => [id, (row as { line: string }).line]);

/** Opens the database of a book with these steps, and closes it. */
async function brought(book: string, steps?: readonly Step[]): Promise<KeptDatabase> {
  (await openBookDatabase(book, QUIET, ...(steps ? [steps] : []))).close();
  return readDatabase(`skinpin-${book}`);
}

describe.each(RELEASES)('the store that release %s left with work unsent', (release) => {
  it('has entries, files and keystrokes that wait', async () => {
    const old = await kept(release);
    const waits = ['unsent', 'unsent_files', 'drafts'].map((name) => rowsOf(old, name).length);
    expect(Math.min(...waits)).toBeGreaterThan(0);
    expect(waits[0]).toBeGreaterThan(5);
  });

  it('is brought to the stores that a fresh book has, with every row it had', async () => {
    const old = await kept(release);
    await makeDatabase(old);
    const now = await brought(bookOf(old));
    expect(now.version).toBe(VERSION);
    expect(shapeOf(now)).toEqual(shapeOf(await brought('fresh')));
    for (const { name } of old.stores)
      expect(asText(rowsOf(now, name))).toBe(asText(rowsOf(old, name)));
  });

  it('is opened by today’s app, worked out by its rules, and all that waits still waits', async () => {
    const old = await kept(release);
    await makeDatabase(old);
    await holdBook(bookOf(old));
    const shop = await app('other rules');
    const { entries, files } = (await shop.status.line()).waiting;
    expect([entries, files]).toEqual(
      ['unsent', 'unsent_files'].map((name) => rowsOf(old, name).length),
    );
    await shop.close();
    const now = await readDatabase(old.name);
    expect(preciousOf(now)).toEqual(preciousOf(old));
    expect(linesOf(now)).toEqual(linesOf(old));
    expect(rowsOf(now, 'rows').length).toBe(rowsOf(old, 'rows').length);
  });
});

/** Today's app over the store of this browser, with no server in reach. */
function app(rules: string): Promise<OpenShop> {
  const version = { newVersion: false, takeNewVersion: async () => {} };
  return openShop(version, {
    ...{ rules, status: {} },
    fetch: () => Promise.reject(new TypeError('no server')),
  });
}

describe('a step that is to come', () => {
  const next: Step[] = [
    ...Array.from({ length: VERSION }, (): Step => () => {}),
    (database) => database.createObjectStore('later' as 'meta'),
  ];

  it('loses nothing of the store before it', async () => {
    const old = await kept(RELEASES[0] as string);
    await makeDatabase(old);
    const now = await brought(bookOf(old), next);
    expect(now.stores.map(({ name }) => name)).toContain('later');
    expect(preciousOf(now)).toEqual(preciousOf(old));
    expect(linesOf(now)).toEqual(linesOf(old));
  });

  it('waits for what an old tab is writing, and the old tab says what to do', async () => {
    const told: (string | null)[] = [];
    const said: (string | null)[] = [];
    const old = new BookStore('two', (sentence) => told.push(sentence));
    const young = new BookStore(
      'two',
      (sentence) => said.push(sentence),
      (book, hooks) => openBookDatabase(book, hooks, next),
    );
    const writing = old.write(['meta'], async (tx) => {
      for (let at = 0; at < 200; at += 1) await tx.objectStore('meta').put(at, 'count');
    });
    const read = young.read(['meta'], (tx) => tx.objectStore('meta').get('count'));
    await writing;
    expect(await read).toBe(199);
    expect(told).toEqual([expect.stringContaining('Reload this page')]);
    // Whatever stood in the way is taken back once it is gone.
    expect(said.length === 0 || said.at(-1) === null).toBe(true);
    const late = old.write(['meta'], (tx) => tx.objectStore('meta').put('old', 'count'));
    await expect(late).rejects.toMatchObject({
      ...{ code: 'store_newer', message: expect.stringContaining('A newer version') },
    });
    await Promise.all([old.close(), young.close()]);
  });

  it('says that another tab is in the way for as long as it is', async () => {
    const said: (string | null)[] = [];
    const stubborn = await openBookDatabase('three', QUIET);
    const young = new BookStore(
      'three',
      (sentence) => said.push(sentence),
      (book, hooks) => openBookDatabase(book, hooks, next),
    );
    const read = young.read(['meta'], (tx) => tx.objectStore('meta').count());
    await expect.poll(() => said).toEqual([expect.stringContaining('Close the other tabs')]);
    stubborn.close();
    expect(await read).toBe(0);
    expect(said.at(-1)).toBeNull();
    await young.close();
  });
});
