import 'fake-indexeddb/auto';
import { afterEach, describe, expect, it } from 'vitest';
import { Refused } from '../../../frontend/src/domain/errors';
import { BookStore } from '../../../frontend/src/storage/database';
import type { openBookDatabase } from '../../../frontend/src/storage/schema';
import { fillUp, losingConnection } from './broken';

const stores: BookStore[] = [];
let count = 0;

function newStore(
  ...rest: [((sentence: string | null) => void)?, typeof openBookDatabase?]
): BookStore {
  count += 1;
  const store = new BookStore(`book${count}`, ...rest);
  stores.push(store);
  return store;
}

afterEach(async () => {
  for (const store of stores.splice(0)) await store.close();
});

describe('BookStore', () => {
  it('keeps each book in a database of its own', async () => {
    const [one, two] = [newStore(), newStore()];
    await one.write(['meta'], (tx) => tx.objectStore('meta').put(3, 'cursor'));
    await two.write(['meta'], (tx) => tx.objectStore('meta').put(5, 'cursor'));
    expect(await one.read(['meta'], (tx) => tx.objectStore('meta').get('cursor'))).toBe(3);
    expect(await two.read(['meta'], (tx) => tx.objectStore('meta').get('cursor'))).toBe(5);
  });

  it('leaves nothing of a piece of work that failed half way', async () => {
    const store = newStore();
    const work = store.write(['meta', 'people'], async (tx) => {
      await tx.objectStore('meta').put('new', 'clock');
      await tx.objectStore('people').put({ person: 'p1' });
      throw new Error('half way');
    });
    await expect(work).rejects.toThrow('half way');
    expect(await store.read(['meta'], (tx) => tx.objectStore('meta').get('clock'))).toBeUndefined();
    expect(await store.read(['people'], (tx) => tx.objectStore('people').count())).toBe(0);
  });

  it.each([
    ['UnknownError', 'Connection to Indexed Database server lost. Refresh the page to try again'],
    ['InvalidStateError', 'The database connection is closing.'],
  ])('opens again once after %s and does the work', async (name, message) => {
    const { open, opened } = losingConnection(1, message, name);
    const store = newStore(undefined, open);
    await store.write(['meta'], (tx) => tx.objectStore('meta').put(7, 'n'));
    expect(await store.read(['meta'], (tx) => tx.objectStore('meta').get('n'))).toBe(7);
    expect(opened).toHaveLength(2);
  });

  it('tells the person when opening again does not help', async () => {
    const told: (string | null)[] = [];
    const { open, opened } = losingConnection(2, 'Connection to Indexed Database server lost');
    const store = newStore((sentence) => told.push(sentence), open);
    const work = store.write(['meta'], (tx) => tx.objectStore('meta').put(7, 'n'));
    await expect(work).rejects.toMatchObject({ code: 'store_lost' });
    expect(told[0]).toContain('Reload the page');
    expect(opened).toHaveLength(2);
  });

  it('finds its handle dead after the browser closed it and goes on', async () => {
    const { open, opened } = losingConnection(0, '');
    const store = newStore(undefined, open);
    await store.write(['meta'], (tx) => tx.objectStore('meta').put(11, 'n'));
    opened[0]?.close();
    expect(await store.read(['meta'], (tx) => tx.objectStore('meta').get('n'))).toBe(11);
    expect(opened).toHaveLength(2);
  });

  it('leaves nothing standing when its page is put aside, and answers nobody after', async () => {
    const [aside, next] = [newStore(), new BookStore(`book${count}`)];
    stores.push(next);
    await aside.write(['meta'], (tx) => tx.objectStore('meta').put(13, 'n'));
    let is_over = false;
    const endless = aside.write(['meta'], async (tx) => {
      await tx.objectStore('meta').put(17, 'n');
      while (!is_over) await tx.objectStore('meta').get('n');
    });
    const ended = expect(endless).rejects.toThrow();
    let answered: unknown = 'nothing yet';
    const asked = next.read(['meta'], (tx) => tx.objectStore('meta').get('n'));
    void asked.then((value) => {
      answered = value;
    });
    await new Promise((done) => setTimeout(done, 50));
    expect(answered).toBe('nothing yet');
    aside.letGo();
    expect(await asked).toBe(13);
    is_over = true;
    await ended;
    const late = aside.read(['meta'], (tx) => tx.objectStore('meta').get('n'));
    const soon = new Promise((done) => setTimeout(() => done('no answer'), 50));
    expect(await Promise.race([late, soon])).toBe('no answer');
  });

  it('does not try again after an error of the work itself', async () => {
    let runs = 0;
    const work = newStore().read(['meta'], async () => {
      runs += 1;
      throw new TypeError('mine');
    });
    await expect(work).rejects.toThrow('mine');
    expect(runs).toBe(1);
  });

  it('says that the tablet is full and what to do', async () => {
    const stop = fillUp('people');
    const store = newStore();
    const work = store.write(
      ['people'],
      (tx) => tx.objectStore('people').put({ person: 'p' }),
      'the photograph',
    );
    await expect(work).rejects.toBeInstanceOf(Refused);
    await expect(work).rejects.toThrow('This tablet is full: the photograph could not be stored.');
    stop();
    await store.write(['people'], (tx) => tx.objectStore('people').put({ person: 'p' }));
  });

  it('tells other tabs of a change, and of no other book', async () => {
    const one = newStore();
    const twin = new BookStore(one.book);
    const other = newStore();
    stores.push(twin);
    const heard = new Promise<string[]>((resolve) => {
      twin.changes.listen((names) => resolve([...names]));
    });
    other.changes.listen(() => expect.unreachable('another book was told'));
    await one.write(['people', 'meta'], (tx) => tx.objectStore('people').put({ person: 'p' }));
    expect(await heard).toEqual(['people']);
  });

  it('gives way to a newer version of the stores in another tab', async () => {
    const told: (string | null)[] = [];
    const store = newStore((sentence) => told.push(sentence));
    await store.read(['meta'], (tx) => tx.objectStore('meta').get('x'));
    const { openDB } = await import('idb');
    const newer = await openDB(`skinpin-${store.book}`, 99);
    newer.close();
    expect(told[0]).toContain('Reload this page');
  });
});
