import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Json, Session } from '../../../frontend/src/services/shop';
import QS7 from '../../../sample_data/skinpin_demo/data/standard_qs7.json' with { type: 'json' };
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { FITTER, INSPECTOR, LEAD, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;
let shop: OpenShop;
const sessions: Record<string, Session> = {};

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  for (const one of [LEAD, INSPECTOR, FITTER]) {
    sessions[one] = await shop.people.unlock(one, PASSCODES[one] as string);
  }
  workshop.server.isAway = true;
});
afterEach(() => workshop.close());

const as = (person: string) => sessions[person] as Session;
const move = (person: string, record: string, word: string, details = {}) =>
  shop.moves.makeMove(as(person), record, word, {
    passcode: PASSCODES[person] as string,
    ...details,
  });
const stateOf = async (record: string) => (await shop.book.defect(record))?.state;
const DISPOSITION = { set: { disposition: 'Repair by patch', reason: 'too deep to blend' } };

async function raised(): Promise<string> {
  const { record } = await shop.capture.shutter(as(INSPECTOR), PLACE);
  const bytes = new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer;
  await shop.capture.addPhotograph(as(INSPECTOR), record, bytes, 'close');
  await shop.capture.setField(as(INSPECTOR), record, 'kind', 'crack');
  await shop.moves.raise(as(INSPECTOR), record);
  return record;
}

async function offered(): Promise<string> {
  const record = await raised();
  await move(LEAD, record, 'assess', DISPOSITION);
  await move(FITTER, record, 'start');
  const [photograph] = await shop.book.related(record, 'photograph');
  const evidence = { photograph: photograph?.record as string };
  await move(FITTER, record, 'offer', { set: { evidence } });
  return record;
}

describe('makeMove', () => {
  it('stamps the scale and the measurement with the record, and a striking breaks the stamp', async () => {
    const record = await offered();
    const [picture] = await shop.book.related(record, 'photograph');
    const photograph = picture?.record as string;
    const [scale, measurement] = [shop.book.newId(), shop.book.newId()];
    const points = [
      [10, 10],
      [200, 10],
    ];
    const rule = { photograph, method: 'two points', points, tap: '0.6' };
    await shop.book.writeAct(as(INSPECTOR), [
      { record: scale, kind: 'scale', set: rule },
      { record: measurement, kind: 'measurement', set: { photograph, scale, points, tap: '0.6' } },
    ]);
    await move(INSPECTOR, record, 'clear');
    expect(await shop.book.defect(record)).toMatchObject({ state: 'Cleared', stamps_hold: true });
    await shop.capture.setField(as(INSPECTOR), scale, 'struck', true);
    expect(await shop.book.defect(record)).toMatchObject({ stamps_hold: false });
  });

  it('takes a defect from draft to cleared with a stamp that holds', async () => {
    const record = await offered();
    await move(INSPECTOR, record, 'clear');
    expect(await shop.book.defect(record)).toMatchObject({
      state: 'Cleared',
      stamps_hold: true,
      stamps: [
        { act: 'INSPECTED', number: '11', person: INSPECTOR, date: '2025-11-03', holds: true },
      ],
    });
    const [stamp] = await shop.book.related(record, 'stamp');
    const list = stamp?.list as { count: number; sha256: string };
    const text = new TextDecoder().decode((await shop.files.bytes(list.sha256)) as ArrayBuffer);
    expect(text.split('\n').filter(Boolean)).toHaveLength(list.count);
  });

  it('needs two stamps of two people where an independent inspection is asked', async () => {
    const record = await offered();
    await shop.capture.setField(as(LEAD), record, 'independent', true);
    await expect(move(INSPECTOR, record, 'clear')).rejects.toMatchObject({ code: 'needs' });
    expect(await stateOf(record)).toBe('Offered');
    await shop.moves.stamp(as(INSPECTOR), record, 'INSPECTED', PASSCODES[INSPECTOR] as string);
    await move(LEAD, record, 'clear', { stamp: 'INDEPENDENT' });
    expect(await shop.book.defect(record)).toMatchObject({ state: 'Cleared', stamps_hold: true });
  });

  it('shows that a stamp has been overtaken by a later measurement', async () => {
    const record = await offered();
    await move(INSPECTOR, record, 'clear');
    await shop.capture.setField(as(INSPECTOR), record, 'depth', { value: '0.011', unit: 'in' });
    expect(await shop.book.defect(record)).toMatchObject({ state: 'Offered', stamps_hold: false });
  });

  it.each([
    [FITTER, 'assess', 'is for lead, not for a fitter'],
    [LEAD, 'start', '“start” does not lead from Raised'],
    [LEAD, 'fly', 'There is no move “fly”'],
    [LEAD, 'assess', "'assess' needs a disposition"],
    [LEAD, 'raised in error', "'raised in error' needs a reason"],
  ])('refuses %s %s with a sentence and writes nothing', async (person, word, sentence) => {
    const record = await raised();
    const before = Object.keys(await shop.book.verdicts(record)).length;
    await expect(move(person, record, word)).rejects.toThrow(sentence);
    expect(Object.keys(await shop.book.verdicts(record))).toHaveLength(before);
    expect(await stateOf(record)).toBe('Raised');
  });

  it('refuses the stamp of a person who did the work, and a wrong passcode', async () => {
    const record = await offered();
    await expect(move(INSPECTOR, record, 'clear', { passcode: '0' })).rejects.toMatchObject({
      code: 'wrong_passcode',
    });
    const own = await raised();
    await move(LEAD, own, 'assess', DISPOSITION);
    await move(LEAD, own, 'start');
    const [photograph] = await shop.book.related(own, 'photograph');
    await move(LEAD, own, 'offer', { set: { evidence: { photograph: photograph?.record } } });
    await expect(move(LEAD, own, 'clear')).rejects.toMatchObject({ code: 'needs' });
    expect(await stateOf(own)).toBe('Offered');
  });

  it('clears a place where nothing was found without a stamp', async () => {
    const { record } = await shop.capture.shutter(as(INSPECTOR), PLACE);
    await move(INSPECTOR, record, 'nil', { set: { kind: 'nil' } });
    expect(await shop.book.defect(record)).toMatchObject({
      state: 'Cleared',
      disposition: 'Accept as is',
    });
  });

  it('goes back to the state that was left without being told which', async () => {
    const record = await raised();
    await move(LEAD, record, 'assess', DISPOSITION);
    await move(LEAD, record, 'raised in error', { why: 'wrong hand' });
    expect(await stateOf(record)).toBe('Raised in error');
    await move(LEAD, record, 'back', { why: 'it was right' });
    expect(await stateOf(record)).toBe('Assessed');
  });

  it('hides a record that is the same as another, under its number', async () => {
    const [one, two] = [await raised(), await raised()];
    await move(LEAD, two, 'same as', { set: { same_as: one } });
    expect(await shop.book.defect(two)).toMatchObject({
      state: 'Same as',
      same_as_number: 'A/0001',
    });
  });

  it('defers with its limit and comes back with the date', async () => {
    const record = await raised();
    const deferral = {
      ...{ to_stage: 'Stage 3', look_again_by: '2026-03-01' },
      ...{ limit: 'no limit', authority: 'lead' },
    };
    await move(LEAD, record, 'defer', { set: { deferral } });
    expect(await shop.book.defect(record)).toMatchObject({
      state: 'Deferred',
      look_again_by: '2026-03-01',
    });
  });

  it('opens the moves of a role and no others', async () => {
    const record = await raised();
    expect(await shop.moves.open(as(LEAD), record)).toEqual([
      'assess',
      'defer',
      'same as',
      'raised in error',
    ]);
    expect(await shop.moves.open(as(FITTER), record)).toEqual([]);
  });

  it('writes the history as sentences', async () => {
    const record = await offered();
    await move(INSPECTOR, record, 'clear');
    const lines = await shop.book.history(record);
    expect(lines.every(({ counts }) => counts)).toBe(true);
    expect(lines.map(({ sentence }) => sentence).join(' ')).toContain('Inspector 1 (11)');
  });
});

describe('two values', () => {
  it('shows both values of two tablets and settles them by a choice with a reason', async () => {
    const record = await raised();
    workshop.server.isAway = false;
    await shop.exchange.sendNow();
    const depth = (value: string) => ({ value, unit: 'in' });
    await workshop.server.write(LEAD, [{ record, kind: 'defect', set: { depth: depth('0.020') } }]);
    await shop.capture.setField(as(INSPECTOR), record, 'depth', depth('0.011'));
    await shop.exchange.sendNow();
    expect((await shop.book.values(record)).depth).toHaveLength(2);
    expect((await shop.book.defect(record))?.two_values).toEqual(['depth']);
    await expect(
      shop.capture.chooseValue(as(LEAD), record, 'depth', depth('0.020'), ' '),
    ).rejects.toMatchObject({ code: 'no_reason' });
    await shop.capture.chooseValue(as(LEAD), record, 'depth', depth('0.020'), 'gauge in date');
    expect((await shop.book.values(record)).depth).toHaveLength(1);
    expect((await shop.book.defect(record))?.two_values).toEqual([]);
  });
});

describe('accept', () => {
  const inches = (value: string) => ({ value, unit: 'in' });
  const LIGHT = {
    ...{ kind: 'pitting', material: 'AL', thickness: inches('0.064'), cleaned: 'yes' },
    ...{ depth: inches('0.0005'), length: inches('0.2'), panel_percent: '1' },
    ...{ perforated: false, fastener: false, blistered: false, highly_stressed: false },
  };
  const ACCEPT = { set: { disposition: 'Accept as is', reason: 'light' } };

  async function assessed(found: Record<string, Json>): Promise<string> {
    const { record } = await shop.capture.shutter(as(INSPECTOR), PLACE);
    await shop.capture.setField(as(INSPECTOR), record, 'no_photograph', 'lamp failed');
    for (const [field, value] of Object.entries(found))
      await shop.capture.setField(as(INSPECTOR), record, field, value);
    await shop.moves.raise(as(INSPECTOR), record);
    await move(LEAD, record, 'assess', ACCEPT);
    return record;
  }

  beforeEach(async () => {
    workshop.server.isAway = false;
    await workshop.addStandard(QS7);
    await shop.exchange.sendNow();
    workshop.server.isAway = true;
  });

  it('takes a light record without the reference of an authority', async () => {
    const record = await assessed(LIGHT);
    expect(await shop.book.defect(record)).toMatchObject({ grade: 1, grade_known: true });
    await move(LEAD, record, 'accept');
    expect(await stateOf(record)).toBe('Cleared');
  });

  it('rests on the rivet line, by which a light record may be of grade 4', async () => {
    const record = await assessed({ kind: 'loose rivets', material: 'AL', run: 1 });
    const sheets = [{ thickness: inches('0.064') }];
    const design = { head: '470', diameter: '1/8', alloy: '2117', sheets };
    workshop.server.isAway = false;
    const line = async (as_found: string, seen = {}) => {
      const set = { defect: record, design, as_found };
      const draft = { record: 'line', kind: 'rivet_line', set, seen };
      const [entry] = await workshop.server.write(INSPECTOR, [draft]);
      await shop.exchange.sendNow();
      return entry?.id as string;
    };
    const first = await line('LSLSLSLL');
    expect(await shop.book.defect(record)).toMatchObject({
      grade: 4,
      fired: [{ rule: 'RV4' }, {}],
    });
    await expect(move(LEAD, record, 'accept')).rejects.toMatchObject({ code: 'needs' });
    const seen = { defect: [first], design: [first], as_found: [first] };
    const second = await line('LSSSSSSS', seen);
    const entries = await move(LEAD, record, 'accept');
    expect(await stateOf(record)).toBe('Cleared');
    expect(entries[0]?.relies).toContain(second);
    expect((await shop.book.defect(record))?.stamps_hold).toBe(true);
    await line('LLSSSSSS', { ...seen, as_found: [second] });
    expect(await shop.book.defect(record)).toMatchObject({ state: 'Assessed', stamps_hold: false });
  });

  it.each([
    ['of grade 4', { ...LIGHT, perforated: true }],
    ['measured through product', { ...LIGHT, cleaned: 'not yet' }],
    ['no row of the standard speaks of', { kind: 'a kind of another version', material: 'AL' }],
  ])('takes one %s only with it', async (_, found) => {
    const record = await assessed(found);
    await expect(move(LEAD, record, 'accept')).rejects.toMatchObject({ code: 'needs' });
    await move(LEAD, record, 'accept', { set: { authority: 'DA-12' } });
    expect(await stateOf(record)).toBe('Cleared');
  });
});
