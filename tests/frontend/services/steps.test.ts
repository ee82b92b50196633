import type { Entry } from '@sync/entry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stepsOf, TAKEN_BACK } from '../../../frontend/src/services/steps';

const WRITER = 'aaaaaaaa';
let serial = 0;

/** One act of one entry, later than those before it. */
function act(by: string, record: string, set: Record<string, unknown>, more: Partial<Entry> = {}) {
  serial += 1;
  const id = `${String(serial).padStart(13, '0')}-0000-${WRITER}`;
  const kind = 'defect';
  return {
    id,
    act: { id: id, of: 1 },
    record,
    kind,
    set,
    seen: {},
    by,
    why: null,
    ...more,
  } as Entry;
}

const undone = (by: string, record: string) => act(by, record, { kind: null }, { why: TAKEN_BACK });
const none = () => undefined;

describe('steps worked out from entries', () => {
  it('are what is left of a pile, however acts and undos of two people follow each other', () => {
    const deed = fc.record({
      by: fc.constantFrom('one', 'two'),
      record: fc.constantFrom('d1', 'd2'),
      undo: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(deed, { maxLength: 14 }), (deeds) => {
        const entries: Entry[] = [];
        const pile: Entry[] = [];
        for (const { by, record, undo } of deeds) {
          const at = pile.findLastIndex((one) => one.by === by && one.record === record);
          if (undo && at < 0) continue;
          const entry = undo ? undone(by, record) : act(by, record, { kind: 'crack' });
          entries.push(entry);
          if (undo) pile.splice(at, 1);
          else pile.push(entry);
        }
        expect(stepsOf(entries, none).map((step) => step.entries[0]?.id)).toEqual(
          pile.map(({ id }) => id),
        );
      }),
    );
  });

  it('keep entries of one act together, and take them off together', () => {
    const first = act('one', 'd1', { place: {} }, { act: { id: 'x', of: 2 } });
    const second = act('one', 'd2', { place: {} }, { act: { id: 'x', of: 2 } });
    expect(stepsOf([first, second], none)).toMatchObject([{ under: ['d1', 'd2'] }]);
    const back = [undone('one', 'd1'), undone('one', 'd2')].map((entry) => ({
      ...entry,
      act: { id: 'y', of: 2 },
    }));
    expect(stepsOf([first, second, ...back], none)).toEqual([]);
  });

  it('leave a move until the entry that undoes it names it', () => {
    const raise = act('one', 'd1', { state: { move: 'raise', to: 'Raised' } });
    const other = act('one', 'd1', { state: { move: 'undo', to: 'Draft', undoes: 'another' } });
    expect(stepsOf([raise, other], none)).toHaveLength(1);
    const undo = act('one', 'd1', { state: { move: 'undo', to: 'Draft', undoes: raise.id } });
    expect(stepsOf([raise, undo], none)).toEqual([]);
  });

  it('lie under the defect of a mark, and leave out what nobody takes back by hand', () => {
    const owners: Record<string, string> = { m1: 'p1', p1: 'd1' };
    const ring = act('one', 'm1', { photograph: 'p1', shape: {} }, { kind: 'mark' });
    const role = act('one', 'one', { role: {} }, { kind: 'person' });
    const steps = stepsOf([ring, role], (record) => owners[record]);
    expect(steps.map((step) => step.under)).toEqual([['d1']]);
  });
});
