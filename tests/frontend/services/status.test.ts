import 'fake-indexeddb/auto';
import { afterEach, describe, expect, it } from 'vitest';
import { Clock } from '../../../frontend/src/services/clock';
import {
  KeptStatus,
  type Surroundings,
  waitingWords,
  weightOf,
} from '../../../frontend/src/services/status';
import { BookStore } from '../../../frontend/src/storage/database';
import { INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

const DAY_MS = 86_400_000;
const stores: BookStore[] = [];
afterEach(async () => {
  for (const store of stores.splice(0)) await store.close();
});

function status(around: Surroundings, now_ms = 0): [KeptStatus, BookStore] {
  const store = new BookStore(`status${stores.length}${Math.trunc(now_ms)}`);
  stores.push(store);
  return [new KeptStatus(store, new Clock(() => now_ms), around), store];
}

const waiting = (records: number, photographs: number, files = photographs, entries = records) => ({
  ...{ records, bays: 0, photographs, files, entries },
  oldest_ms: null,
});

describe('waitingWords', () => {
  it.each([
    [waiting(3, 5), '3 records, 5 photographs waiting'],
    [waiting(1, 0), '1 record waiting'],
    [waiting(0, 1), '1 photograph waiting'],
    [waiting(0, 0), 'Nothing waiting'],
    [waiting(0, 0, 2), '2 files waiting'],
    [{ ...waiting(3, 5), bays: 1 }, '3 records, 1 bay, 5 photographs waiting'],
    [{ ...waiting(0, 0), bays: 4 }, '4 bays waiting'],
  ])('says %j as %s', (counts, words) => {
    expect(waitingWords(counts)).toBe(words);
  });
});

describe('weightOf', () => {
  it.each([
    [null, 'plain'],
    [2 * DAY_MS - 1, 'plain'],
    [2 * DAY_MS, 'bold'],
    [5 * DAY_MS - 1, 'bold'],
    [5 * DAY_MS, 'error'],
  ])('takes an age of %j for %s', (age_ms, weight) => {
    expect(weightOf(age_ms)).toBe(weight);
  });
});

describe('a shop', () => {
  it('tells its sheets that the count of what waits has changed, with no exchange in between', async () => {
    const workshop = await new Workshop().open();
    const shop = await workshop.tablet();
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    workshop.server.isAway = true;
    const { record } = await shop.capture.shutter(session, PLACE);
    const counts: number[] = [];
    const stop = shop.subscribe(async () => {
      counts.push((await shop.status.waiting()).entries);
    });
    await shop.capture.setField(session, record, 'note', 'by the chine');
    await expect.poll(() => counts.at(-1), { interval: 5 }).toBe(2);
    stop();
    await workshop.close();
  });
});

describe('KeptStatus', () => {
  it('gives room as photographs, and says nothing where the browser says nothing', async () => {
    const storage = { estimate: async () => ({ quota: 90_000_000, usage: 9_000_000 }) };
    const [some] = status(
      { storage: storage as StorageManager, battery: async () => ({ level: 0.314 }) },
      1,
    );
    expect(await some.line()).toMatchObject({ room_photographs: 20, battery_percent: 31 });
    const [none] = status({}, 2);
    expect(await none.line()).toMatchObject({
      room_photographs: null,
      battery_percent: null,
      kept: null,
    });
  });

  it('remembers what the browser answered when it was asked to keep the store', async () => {
    const storage = { persist: async () => false, persisted: async () => false };
    const [one] = status({ storage: storage as unknown as StorageManager }, 3);
    expect((await one.line()).kept).toBeNull();
    expect(await one.askToKeep()).toBe(false);
    expect((await one.line()).kept).toBe(false);
  });

  it('tells the age of the oldest thing unsent', async () => {
    const [one, store] = status({}, 9 * DAY_MS);
    const row = { act: 'a', record: 'd1', kind: 'defect', size_bytes: 7 };
    await store.write(['unsent', 'unsent_files'], async (tx) => {
      await tx.objectStore('unsent').put({ id: 'e1', wall_ms: 8 * DAY_MS, ...row });
      const file = { sha256: 'f1', size_bytes: 5, media_type: 'image/jpeg', wall_ms: 3 * DAY_MS };
      await tx.objectStore('unsent_files').put({ ...file, photographs: ['p1'] });
    });
    const line = await one.line();
    expect(line.waiting).toEqual({
      ...{ entries: 1, records: 1, bays: 0, photographs: 1, files: 1 },
      oldest_ms: 6 * DAY_MS,
    });
    expect(line.waiting_weight).toBe('error');
  });
});
