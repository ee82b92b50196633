import 'fake-indexeddb/auto';
import { afterEach, describe, expect, it } from 'vitest';
import { BookStore } from '../../../frontend/src/storage/database';
import { everyRow } from '../../../frontend/src/storage/list';

let store: BookStore;
let count = 0;

async function put(names: readonly string[], at: number) {
  await store.write(['rows'], async (tx) => {
    for (const record of names)
      await tx.objectStore('rows').put({ record, numbers: [], at, row: { record, at } });
  });
}

async function filled(rows: number) {
  count += 1;
  store = new BookStore(`list${count}`);
  const names = Array.from({ length: rows }, (_, at) => `r${String(at).padStart(4, '0')}`);
  await put(names, 1);
  return names;
}
afterEach(() => store.close());

describe('every row of a book', () => {
  it.each([0, 1, 9, 10, 11, 30])('is read part by part: %i rows by ten', async (rows) => {
    const names = await filled(rows);
    const { rows: found, at } = await everyRow(store, 10);
    expect(found.map(({ record }) => record)).toEqual(names);
    expect(at).toBe(rows > 0 ? 1 : 0);
  });

  it('comes in the order in which it was last written', async () => {
    await filled(30);
    await put(['r0003'], 2);
    const { rows, at } = await everyRow(store, 10);
    expect(rows.at(-1)?.record).toBe('r0003');
    expect([rows.length, at]).toEqual([30, 2]);
  });

  it('names a time after which what was written meanwhile is found', async () => {
    await filled(300);
    const reading = everyRow(store, 10);
    // Its first part is read by then; the row it held and a new one are written behind its back.
    await store.read(['rows'], (tx) => tx.objectStore('rows').get('r0000'));
    await put(['r0000', 'a0000'], 2);
    const { rows, at } = await reading;
    const later = await store.read(['rows'], (tx) =>
      tx.objectStore('rows').index('at').getAll(IDBKeyRange.lowerBound(at, true)),
    );
    const known = new Map([...rows, ...later].map((one) => [one.record, one.at]));
    expect(known.size).toBe(301);
    expect([known.get('r0000'), known.get('a0000')]).toEqual([2, 2]);
  });
});
