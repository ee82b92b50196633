import { describe, expect, it } from 'vitest';
import type { Definition } from '../../../frontend/src/domain/place';
import {
  askedPairs,
  type PairRecord,
  pairId,
  reasonsFor,
} from '../../../frontend/src/services/pairs';
import { questionsOf } from '../../../frontend/src/services/questions';
import type { DefectRow, Session } from '../../../frontend/src/services/shop';
import definition from '../../../sample_data/skinpin_demo/data/definition_2603.json';
import demo from '../../vectors/demo_rows.json';

const PLACES = definition as unknown as Definition;
const ROWS = demo.rows.map((row) => ({
  ...{ two_values: [], not_counting: [], waits: [], choose_lead: false, states: [row.state] },
  ...{ graded_by: 'QS-7 issue 1' },
  ...row,
})) as unknown as DefectRow[];
const row = (number: string) => ROWS.find((one) => one.number === number) as DefectRow;
const LEAD = { role: 'lead', may_decide: true } as Session;

const asked = (decisions: PairRecord[] = []) => askedPairs(ROWS, PLACES, decisions);

describe('questions of the book', () => {
  it('of the demo one pair is open', () => {
    const [only, ...others] = questionsOf(ROWS, asked());
    expect(others).toEqual([]);
    expect([only?.kind, only?.numbers]).toEqual(['same defect', 'A/0008 and B/0019']);
    expect(only?.reason).toContain('0.2 in aft');
  });

  it('are gone once decided, and asked last once put off', () => {
    const [first, second] = [row('A/0008').record, row('B/0019').record];
    const record = pairId('same defect', second, first);
    const decided = (words: string) => [
      { record, first, second, query: 'same defect', decided: words },
    ];
    expect(questionsOf(ROWS, asked(decided('two defects')))).toEqual([]);
    const more = ROWS.map((one) =>
      one.number === 'A/0021'
        ? { ...one, waits: [{ entry: 'e1', code: 'standard', reason: 'Waits for a file.' }] }
        : one,
    );
    const told = questionsOf(more, asked(decided('decide later'))).map((one) => [
      one.kind,
      one.is_later,
    ]);
    expect(told).toEqual([
      ['waits', false],
      ['same defect', true],
    ]);
  });

  it('two values, what does not count and an older issue are asked, in this order', () => {
    const rows = [
      { ...row('A/0021'), graded_by: 'QS-7 issue 0' },
      {
        ...row('A/0010'),
        two_values: ['depth', 'look_again'],
        not_counting: [{ entry: 'e2', code: 'role', reason: '“assess” is for lead.' }],
      },
      { ...row('A/0001'), graded_by: 'QS-7 issue 0' },
    ];
    const told = questionsOf(rows, [], { name: 'QS-7', issue: '1' });
    expect(told.map((one) => [one.kind, one.numbers])).toEqual([
      ['two values', 'A/0010'],
      ['does not count', 'A/0010'],
      ['grade again', 'A/0021'],
    ]);
    expect(told[0]?.reason).toBe('depth and look again: the worse counts until chosen.');
  });

  it('the id of a pair is the same on every device, whichever record comes first', () => {
    expect(pairId('same defect', 'a', 'b')).toBe(pairId('same defect', 'b', 'a'));
    expect(pairId('wrong hand', 'a', 'b')).not.toBe(pairId('same defect', 'a', 'b'));
    expect(pairId('same defect', 'a', 'b')).toMatch(/^pair-[0-9a-f]{40}$/);
  });

  it('a key that can’t be used says why', () => {
    const [pair] = asked().filter(({ decided }) => decided === null);
    const both = [row('A/0008'), row('B/0019')] as const;
    if (!pair) throw new Error('the demo asks of A/0008 and B/0019');
    expect(reasonsFor(pair, both, LEAD)).toEqual({
      ...{ same: undefined, two: undefined, later: undefined },
      wrong: 'both are starboard',
    });
    expect(reasonsFor(pair, both, { ...LEAD, role: 'inspector' }).same).toBe('the lead decides');
    expect(reasonsFor(pair, both, { ...LEAD, may_decide: false }).two).toBe(
      'no contact for 14 days',
    );
  });
});
