import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import {
  type AskedPair,
  askedPairs,
  decideSame,
  decideTwo,
  decideWrongHand,
  moveToOtherHand,
  type PairRecord,
  pairsOf,
  rowsOfPair,
} from '../../../frontend/src/services/pairs';
import type { DefectRow, Place, Session } from '../../../frontend/src/services/shop';
import { INSPECTOR, LEAD, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;
let shop: OpenShop;
let lead: Session;
let inspector: Session;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  inspector = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  lead = await shop.people.unlock(LEAD, PASSCODES[LEAD] as string);
  workshop.server.isAway = true;
});
afterEach(() => workshop.close());

async function seen(place: Place): Promise<string> {
  const { record } = await shop.capture.shutter(inspector, place);
  await shop.capture.setField(inspector, record, 'kind', 'pitting');
  await shop.capture.setField(inspector, record, 'no_photograph', 'camera flat');
  await shop.moves.raise(inspector, record);
  return record;
}

async function asked(): Promise<[AskedPair, [DefectRow, DefectRow]]> {
  const rows = await shop.book.defects();
  const decisions = (await shop.book.records('pair')) as PairRecord[];
  const [pair] = askedPairs(rows, shop.definition, decisions);
  const both = pair && rowsOfPair(pair, rows);
  if (!pair || !both) throw new Error('the two records are asked about');
  return [pair, both];
}

const twice = async (hand: 'P' | 'S') => [await seen(PLACE), await seen({ ...PLACE, hand })];

describe('two records asked about', () => {
  it('are found by either of them, in the order of all pairs', () => {
    const pair = (query: AskedPair['query'], ...records: [string, string]) =>
      ({ query, records }) as AskedPair;
    const [ab, bc, ba] = [
      pair('same defect', 'a', 'b'),
      pair('same defect', 'b', 'c'),
      pair('wrong hand', 'a', 'b'),
    ];
    const all = [ab, bc, ba];
    expect(pairsOf('a', all)).toEqual([ab, ba]);
    expect(pairsOf('b', all)).toEqual([ab, bc, ba]);
    expect(pairsOf('d', all)).toEqual([]);
  });

  it('are one defect till it is undone; both numbers live on', async () => {
    const [first, second] = await twice('P');
    await decideSame(shop, lead, (await asked())[0]);
    expect((await asked())[0].decided).toBe('A/0002 was decided to be the same as A/0001.');
    const hidden = await shop.book.defect(second as string);
    expect(hidden).toMatchObject({ state: 'Same as', number: 'A/0002', same_as: first });
    await shop.capture.undo(lead, second);
    expect((await asked())[0].decided).toBeNull();
  });

  it('are left as two in a record of their own, which is undone by itself', async () => {
    await twice('P');
    const [pair] = await asked();
    await decideTwo(shop, lead, pair);
    expect((await asked())[0].decided).toBe('They were decided to be two defects.');
    const { next } = await shop.capture.undoable(lead, pair.id);
    expect(next).toMatchObject({ kind: 'pair', records: [pair.id] });
    await shop.capture.undo(lead, pair.id);
    expect((await asked())[0].decided).toBeNull();
  });

  it('an inspector’s decision of them counts for nothing', async () => {
    await twice('P');
    await decideTwo(shop, inspector, (await asked())[0]);
    expect((await asked())[0].decided).toBeNull();
  });

  it('on two hands: the wrong one is raised in error, or its place is put right', async () => {
    const [, second] = await twice('S');
    const [pair, [one, other]] = await asked();
    expect(pair.query).toBe('wrong hand');
    await decideWrongHand(shop, lead, other, one);
    expect((await asked())[0].decided).toBe('A/0002 was raised in error.');
    const told = await shop.book.history(second as string);
    expect(told.at(-1)?.sentence).toContain('wrong hand entered: A/0001 is port');
    await shop.capture.undo(lead, second);
    await moveToOtherHand(shop, lead, other, one);
    expect((await asked())[0].query).toBe('same defect');
  });
});

describe('a grade overruled', () => {
  it('is one act with its reason and a stamp over it', async () => {
    const record = await seen(PLACE);
    const passcode = PASSCODES[LEAD] as string;
    const overrule = { grade: 2 };
    await expect(shop.moves.decide(lead, record, { overrule }, { passcode })).rejects.toThrow(
      'A decision needs its reason.',
    );
    const why = 'seen again in daylight';
    const entries = await shop.moves.decide(lead, record, { overrule }, { passcode, why });
    expect(entries.map((one) => [one.kind, one.act.of])).toEqual([
      ['defect', 2],
      ['stamp', 2],
    ]);
    const row = await shop.book.defect(record);
    expect(row?.overruled?.to).toBe(2);
    expect(row?.stamps).toMatchObject([{ act: 'DISPOSITION', number: '1', holds: true }]);
    expect(await shop.book.written(record, 'overrule')).toMatchObject([
      { value: { grade: 2 }, by: LEAD, why, date: '2025-11-03' },
    ]);
  });

  it('what was written stays in the list of it, followed by what took it back', async () => {
    const record = await seen(PLACE);
    await shop.capture.setField(lead, record, 'look_again', { tablet: 'A', ask: 'depth' });
    expect((await shop.book.defect(record))?.look_again).toEqual({ tablet: 'A', ask: 'depth' });
    await shop.capture.undo(lead, record);
    expect((await shop.book.defect(record))?.look_again).toBeNull();
    const values = (await shop.book.written(record, 'look_again')).map((one) => one.value);
    expect(values).toEqual([{ tablet: 'A', ask: 'depth' }, null]);
  });
});
