import 'fake-indexeddb/auto';
import { link } from '@sync/chain';
import { fromLine } from '@sync/entry';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Clock } from '../../../frontend/src/services/clock';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Session } from '../../../frontend/src/services/shop';
import { Writer } from '../../../frontend/src/services/writer';
import { BookStore } from '../../../frontend/src/storage/database';
import { chainFaults } from '../../sync/chains';
import { losingAnswers } from '../storage/broken';
import { BOOK, INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;
let shop: OpenShop;
let session: Session;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  workshop.server.isAway = true;
});
afterEach(() => workshop.close());

/** What lies in the database, read by a handle of its own. */
async function kept() {
  const store = new BookStore(BOOK);
  const found = await store.read(['entries', 'unsent', 'meta'], async (tx) => ({
    rows: await tx.objectStore('entries').getAll(),
    unsent: await tx.objectStore('unsent').getAllKeys(),
    chain: (await tx.objectStore('meta').get('chain')) as { prev: string },
  }));
  await store.close();
  return found;
}

describe('Writer', () => {
  it('links each entry to the one before, through a new start of the app', async () => {
    await shop.capture.shutter(session, PLACE);
    await shop.capture.shutter(session, PLACE);
    await shop.close();
    const again = await workshop.shop();
    await again.capture.shutter(again.session as Session, PLACE);
    const { rows, chain } = await kept();
    const links = rows.map(({ line, sha256 }) => link(fromLine(line), sha256));
    expect(chainFaults(links)).toEqual({ faults: [], forks: [] });
    const mine = links
      .filter(({ device }) => device === 'A')
      .sort((a, b) => (a.id < b.id ? -1 : 1));
    expect(mine.map(({ n }) => n)).toEqual([1, 2, 1]);
    expect(chain.prev).toBe(mine.at(-1)?.sha256);
  });

  it('shows a fork and no fault where two tabs start from one entry', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const [one, two] = [await workshop.shop(), await workshop.shop()];
    await one.capture.setField(one.session as Session, record, 'note', 'one');
    await two.capture.setField(two.session as Session, record, 'note', 'two');
    const { rows } = await kept();
    const links = rows.map(({ line, sha256 }) => link(fromLine(line), sha256));
    const { faults, forks } = chainFaults(links);
    expect(faults).toEqual([]);
    expect(forks).toHaveLength(1);
    expect((await one.book.values(record)).note).toEqual([
      { value: 'two', entries: [expect.any(String)] },
    ]);
  });

  it('writes what was asked together one after the other', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const texts = ['a', 'b', 'c', 'd'];
    await Promise.all(texts.map((one) => shop.capture.setField(session, record, 'note', one)));
    expect(await shop.book.plain(record)).toMatchObject({ note: 'd' });
    const { rows } = await kept();
    const mine = rows.filter((row) => row.record === record).map(({ line }) => fromLine(line));
    expect(mine.map(({ n }) => n)).toEqual([1, 2, 3, 4, 5]);
    expect(mine.slice(2).map(({ seen }) => seen.note)).toEqual(mine.slice(1, 4).map((e) => [e.id]));
  });

  it.each(['entries', 'standing', 'rows', 'unsent', 'meta'])(
    'leaves all or nothing when the app is killed while %s is written',
    async (name) => {
      const { record } = await shop.capture.shutter(session, PLACE);
      const before = await kept();
      const real = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (this: IDBObjectStore, value, key?) {
        if (this.name === name) this.transaction.abort();
        return key === undefined ? real.call(this, value) : real.call(this, value, key);
      };
      const work = shop.capture.setField(session, record, 'note', 'half');
      await expect(work).rejects.toThrow();
      IDBObjectStore.prototype.put = real;
      expect(await kept()).toEqual(before);
      await shop.capture.setField(session, record, 'note', 'whole');
      expect((await shop.book.plain(record)).note).toBe('whole');
      const { rows } = await kept();
      const links = rows.map(({ line, sha256 }) => link(fromLine(line), sha256));
      expect(chainFaults(links).faults).toEqual([]);
    },
  );

  it('does not write an act twice when the store is lost just after it stored it', async () => {
    await shop.close();
    const { open, lost } = losingAnswers('unsent');
    const store = new BookStore(BOOK, undefined, open);
    const before = (await kept()).rows.length;
    const clock = new Clock(() => workshop.now_ms);
    const random = (count: number) => crypto.getRandomValues(new Uint8Array(count));
    const writer = await Writer.start(store, clock, 'A', random);
    const draft = { record: 'd1', kind: 'defect', set: { note: 'once' } };
    const plan = { records: ['d1'], count: 1, must_count: false, build: () => [draft] };
    const [entry] = await writer.write(session, plan);
    const { rows, unsent, chain } = await kept();
    await store.close();
    expect(lost()).toBe(1);
    expect(rows).toHaveLength(before + 1);
    expect(unsent).toContain(entry?.id);
    expect(chain.prev).toBe(rows.find(({ id }) => id === entry?.id)?.sha256);
  });
});
