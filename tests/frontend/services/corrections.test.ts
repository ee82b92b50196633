import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { correctedFields, REASONS } from '../../../frontend/src/services/corrections';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Session } from '../../../frontend/src/services/shop';
import { INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

const inches = (value: string) => ({ value, unit: 'in' });

describe('a change of what was captured', () => {
  let workshop: Workshop;
  let shop: OpenShop;
  let session: Session;
  let record: string;

  beforeEach(async () => {
    workshop = await new Workshop().open();
    shop = await workshop.tablet();
    session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    ({ record } = await shop.capture.shutter(session, PLACE));
    const found = { kind: 'pitting', depth: inches('0.011'), no_photograph: 'too dark' };
    await shop.capture.setFields(session, record, found);
  });
  afterEach(() => workshop.close());

  const set = (fields: Parameters<OpenShop['capture']['setFields']>[2], why?: string) =>
    shop.capture.setFields(session, record, fields, why);

  it('needs no reason while the record is a draft', async () => {
    expect(await set({ depth: inches('0.012') })).toHaveLength(1);
  });

  it('is refused without a reason once it is raised, and nothing is written', async () => {
    await shop.moves.raise(session, record);
    const before = await shop.book.history(record);
    for (const fields of [
      { depth: inches('0.012') },
      { kind: 'crack' },
      { depth: null },
      { place: { ...PLACE, hand: 'S' } },
    ])
      for (const why of [undefined, '  '])
        await expect(set(fields, why)).rejects.toMatchObject({ code: 'no_reason' });
    expect(await shop.book.history(record)).toEqual(before);
  });

  it('with a reason is written, and the history strikes the old value through', async () => {
    await shop.moves.raise(session, record);
    workshop.now_ms += 3 * 86_400_000;
    await set({ depth: inches('0.013') }, 'typed wrong');
    const last = (await shop.book.history(record)).at(-1);
    expect(last?.sentence).toContain('Depth 0.011 in corrected to 0.013 in by Inspector 1 (11)');
    expect(last?.sentence).toContain('typed wrong.');
    expect(last?.parts).toContainEqual(['0.011 in', true]);
    expect(await shop.book.plain(record)).toMatchObject({ depth: inches('0.013') });
  });

  it('is none where a field is written for the first time, or to the same value', async () => {
    await shop.moves.raise(session, record);
    await set({ length: inches('2') });
    await set({ depth: inches('0.0110') });
    await set({ tag: '2603A0001X' });
  });

  it('can be taken back without a reason of its own', async () => {
    await shop.moves.raise(session, record);
    await set({ depth: inches('0.013') }, 'typed wrong');
    await shop.capture.undo(session, record);
    expect(await shop.book.plain(record)).toMatchObject({ depth: inches('0.011') });
  });

  it('is asked where two values stand and a third is written', () => {
    const values = { e1: { depth: inches('0.011') }, e2: { depth: inches('0.012') } };
    expect(correctedFields(values, 'Raised', { depth: inches('0.012') })).toEqual(['depth']);
    expect(correctedFields(values, 'Draft', { depth: inches('0.012') })).toEqual([]);
  });

  it('has few reasons with a key, none of them twice', () => {
    expect(REASONS.length).toBeLessThanOrEqual(6);
    expect(new Set(REASONS).size).toBe(REASONS.length);
  });
});
