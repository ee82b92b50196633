import 'fake-indexeddb/auto';
import { type Standing, standing } from '@sync/standing';
import { afterEach, describe, expect, it } from 'vitest';
import { judgeAll } from '../../../frontend/src/domain/ledger';
import { knownOf } from '../../../frontend/src/domain/verdicts';
import { workOutAgain } from '../../../frontend/src/storage/again';
import { BookStore } from '../../../frontend/src/storage/database';
import { type Arrival, DERIVED_STORES, takeIn } from '../../../frontend/src/storage/derive';
import { highestGrade } from '../../../frontend/src/storage/grades';
import qs7 from '../../../sample_data/skinpin_demo/data/standard_qs7.json';
import { seeded } from '../services/bench';
import { countsOf, pureRows } from './pure';
import { DESIGN, Scene } from './scene';

const QS7_SHA256 = '7'.repeat(64);

const stores: BookStore[] = [];
let count = 0;

function newStore(): BookStore {
  count += 1;
  const store = new BookStore(`derive${count}`);
  stores.push(store);
  return store;
}
afterEach(async () => {
  for (const store of stores.splice(0)) await store.close();
});

async function snapshot(store: BookStore) {
  return store.read(['entries', 'standing', 'rows'], async (tx) => ({
    entries: sorted(await tx.objectStore('entries').getAll(), 'id'),
    standing: sorted(await tx.objectStore('standing').getAll(), 'record'),
    rows: (await tx.objectStore('rows').getAll()).map(({ at: _at, ...row }) => row),
  }));
}

/** Lists inside are sets, and have no order of their own. */
function sorted<T extends object>(rows: T[], key: keyof T): unknown[] {
  return rows
    .map((row) => ({
      ...row,
      refers: [...((row as { refers?: string[] }).refers ?? [])].sort(),
      names: [...((row as { names?: string[] }).names ?? [])].sort(),
    }))
    .sort((a, b) => (String(a[key]) < String(b[key]) ? -1 : 1));
}

function shuffled<T>(list: readonly T[], random: () => number): T[] {
  const keyed = list.map((one) => [random(), one] as const);
  return keyed.sort(([a], [b]) => a - b).map(([, one]) => one);
}

async function takeInParts(store: BookStore, arrivals: readonly Arrival[], random: () => number) {
  for (let at = 0; at < arrivals.length; ) {
    const size = 1 + Math.floor(random() * 5);
    const part = arrivals.slice(at, at + size);
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, part));
    at += size;
  }
}

describe('takeIn', () => {
  it.each([101, 108, 115, 122, 129, 136])(
    'comes to the same in any order, in parts or twice, and when rebuilt (seed %i)',
    async (seed) => {
      console.log(`seed ${seed}`);
      const scene = new Scene(seeded(seed));
      await scene.setUp();
      for (let n = 0; n < 40; n += 1) await scene.step();
      const [root] = scene.all;
      const whole = newStore();
      await whole.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all));
      const expected = await snapshot(whole);
      expect(expected.rows.length).toBeGreaterThan(0);
      for (let order = 0; order < 3; order += 1) {
        const store = newStore();
        await store.write(['meta'], (tx) => tx.objectStore('meta').put(root?.entry.id, 'root'));
        const twice = [...scene.all, ...scene.all.filter(() => scene.random() < 0.2)];
        await takeInParts(store, shuffled(twice, scene.random), scene.random);
        expect(await snapshot(store)).toEqual(expected);
        await workOutAgain(store, 'other rules');
        expect(await snapshot(store)).toEqual(expected);
      }
    },
    30_000,
  );

  it.each([3, 5, 8, 13, 21])(
    'says what the pure functions say of the whole book (seed %i)',
    async (seed) => {
      console.log(`seed ${seed}`);
      const scene = new Scene(seeded(seed));
      await scene.setUp();
      for (let n = 0; n < 100; n += 1) await scene.step();
      const store = newStore();
      const root = scene.all[0]?.entry.id as string;
      await store.write(['meta'], (tx) => tx.objectStore('meta').put(root, 'root'));
      await takeInParts(store, shuffled(scene.all, scene.random), scene.random);
      const entries = scene.all.map(({ entry }) => entry);
      const gradeOf = (values: never, pins: never) => highestGrade(values, pins, () => null);
      const { verdicts, withdrawn } = judgeAll(
        entries,
        knownOf({ root, gradeOf: gradeOf as never }),
      );
      const found = await snapshot(store);
      const results = [...verdicts.values()].map(({ result }) => result);
      expect(new Set(results)).toEqual(new Set(['counts', 'does not count']));
      expect(withdrawn.size).toBeGreaterThan(0);
      const stands = new Map<string, Standing>();
      for (const record of new Set(entries.map((one) => one.record))) {
        const mine = entries.filter((one) => one.record === record);
        stands.set(record, standing(mine, countsOf({ verdicts, withdrawn })));
      }
      for (const row of found.standing as { record: string; values: Standing['values'] }[]) {
        expect(row.values).toEqual(stands.get(row.record)?.values);
      }
      const rows = pureRows(entries, stands, { verdicts, withdrawn });
      expect(found.rows.map(({ row }) => row)).toEqual(rows);
    },
  );

  it('shows the new number of the record that leads on the ones behind it', async () => {
    const scene = new Scene(seeded(4));
    await scene.setUp();
    const [lead] = [scene.roles.lead as string];
    const write = (record: string, set: Record<string, unknown>, seen = {}) =>
      scene.act('server', 'lead', [{ record, kind: 'defect', set, seen, relies: [lead] }]);
    const draft = { move: 'new', to: 'Draft' };
    const raised = { move: 'raise', to: 'Raised' };
    const found = { place: {}, kind: 'crack', no_photograph: 'dark', state: raised };
    const [one] = await write('d1', { number: 'A/0001', state: draft });
    await write('d1', { ...found, place: { structure: 'Hull' } }, { state: [one], number: [one] });
    const [two] = await write('d2', { number: 'A/0002', state: draft });
    const same = { same_as: 'd1', state: { move: 'same as', to: 'Same as' } };
    await write('d2', same, { state: [two] });
    const store = newStore();
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all));
    const rowOf = async (record: string) =>
      (await snapshot(store)).rows.find((row) => row.record === record)?.row;
    expect(await rowOf('d2')).toMatchObject({ state: 'Same as', same_as_number: 'A/0001' });
    const length = scene.all.length;
    await write('d1', { number: 'A/0009' }, { number: [one] });
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all.slice(length)));
    expect(await rowOf('d2')).toMatchObject({ state: 'Same as', same_as_number: 'A/0009' });
  });

  it('notes an id named of a record when it turns out to be another record’s', async () => {
    const scene = new Scene(seeded(6));
    await scene.setUp();
    const set = { note: 'seen elsewhere' };
    const [other] = await scene.act('A', 'lead', [{ record: 'd1', kind: 'defect', set }]);
    const draft = { record: 'd2', kind: 'defect', set, seen: { note: [other as string] } };
    await scene.act('B', 'lead', [draft]);
    const store = newStore();
    const standingOf = async () =>
      store.read(['standing'], (tx) => tx.objectStore('standing').get('d2'));
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all.slice(-1)));
    expect(await standingOf()).toMatchObject({ awaited: [other], faults: [] });
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all.slice(-2, -1)));
    const [fault] = (await standingOf())?.faults ?? [];
    expect(fault).toEqual(['elsewhere', scene.all.at(-1)?.entry.id, 'note', other]);
    expect((await standingOf())?.awaited).toEqual([]);
  });

  it('grades a defect anew with every change of its rivet line', async () => {
    const scene = new Scene(seeded(9));
    await scene.setUp();
    const relies = [scene.roles.lead as string];
    const pin = { standard: { name: 'QS-7', issue: '1', sha256: QS7_SHA256 } };
    const loose = { ...pin, number: 'A/0001', kind: 'loose rivets', material: 'AL', run: 1 };
    const set = { ...loose, state: { move: 'new', to: 'Draft' } };
    await scene.act('A', 'lead', [{ record: 'd1', kind: 'defect', set, relies }]);
    const store = newStore();
    const bytes = new TextEncoder().encode(JSON.stringify(qs7)).buffer as ArrayBuffer;
    await store.write(['files'], (tx) => tx.objectStore('files').put(bytes, QS7_SHA256));
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all));
    const told: unknown[] = [];
    const write = async (given: object, seen = {}) => {
      const draft = { record: 'r1', kind: 'rivet_line', set: given as never, seen };
      const ids = await scene.act('A', 'lead', [draft]);
      await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all.slice(-1)));
      const [one] = (await snapshot(store)).rows;
      told.push((one as { row: { grade_words: string } }).row.grade_words);
      return ids;
    };
    const first = await write({ defect: 'd1', as_found: 'LSLSLSLL' });
    await write({ design: DESIGN });
    const found = await write({ as_found: 'LSLSLSSS' }, { as_found: first });
    await write({ as_found: 'LSLSSSSS' }, { as_found: found });
    await write({ defect: null }, { defect: first });
    expect(told).toEqual(['Grade at least 2 ?', 'Grade 4', 'Grade 3', 'Grade 2', 'Grade 2']);
    const incremental = await snapshot(store);
    await workOutAgain(store, 'other rules');
    expect(await snapshot(store)).toEqual(incremental);
  });

  it('keeps the first of two entries that share an id', async () => {
    const scene = new Scene(seeded(1));
    await scene.setUp();
    const [first] = scene.all as [Arrival];
    const other = { ...first, line: `${first.line} `, sha256: 'e'.repeat(64) };
    const store = newStore();
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all));
    const { held } = await store.write(DERIVED_STORES, (tx) => takeIn(tx, [other]));
    expect(held).toEqual([]);
    const kept = await store.read(['entries'], (tx) =>
      tx.objectStore('entries').get(first.entry.id),
    );
    expect(kept?.sha256).toBe(first.sha256);
  });

  it('leaves the old book whole when a page fails half way', async () => {
    const scene = new Scene(seeded(2));
    await scene.setUp();
    const store = newStore();
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, scene.all));
    const before = await snapshot(store);
    await scene.step();
    const page = scene.all.slice(before.entries.length);
    const work = store.write(DERIVED_STORES, async (tx) => {
      await takeIn(tx, page);
      throw new Error('killed');
    });
    await expect(work).rejects.toThrow('killed');
    expect(await snapshot(store)).toEqual(before);
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, page));
    expect((await snapshot(store)).entries).toHaveLength(scene.all.length);
  });
});
