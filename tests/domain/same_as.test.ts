// Which of several records that are the same defect leads.

import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  byNumber,
  chainLacks,
  type Other,
  type Others,
  sameAsHeads,
} from '../../frontend/src/domain/same_as';

const NO_HEAD = [null, 'Draft', 'Raised in error'];
const state = fc.constantFrom('Same as', 'Same as', 'In work', 'Draft', 'Raised in error');
const other = fc.record({
  state,
  targets: fc.uniqueArray(fc.constantFrom('A', 'B', 'C', 'D'), { maxLength: 2 }),
  left: fc.constantFrom(null, 'Draft', 'Raised', 'Cleared'),
});
const chains = fc
  .tuple(other, other, other, fc.shuffledSubarray(['A', 'B', 'C'], { minLength: 3 }))
  .map(([a, b, c, names]): Others => {
    const made = [a, b, c].map((one, at): Other => ({ ...one, number: `A/000${at + 1}` }));
    return Object.fromEntries(names.map((name, at) => [name, made[at] as Other]));
  });

it('hides a record only behind one that is shown', () => {
  fc.assert(
    fc.property(chains, (others) => {
      const heads = sameAsHeads(others);
      for (const [name, head] of heads) {
        if (head === null || head === name) continue;
        const lead = others[head] as Other;
        expect(NO_HEAD).not.toContain(lead.state === 'Same as' ? lead.left : lead.state);
        if (lead.state === 'Same as') expect(heads.get(head)).toBe(head);
      }
    }),
    { numRuns: 400 },
  );
});

it('asks for the next record of a chain until it ends', () => {
  const aside = (number: string, target: string): Other => {
    return { number, state: 'Same as', targets: [target], left: 'Raised' };
  };
  const one = aside('A/0001', 'Y');
  expect(chainLacks('X', {})).toEqual(['X']);
  expect(chainLacks('X', { X: one })).toEqual(['Y']);
  expect(chainLacks('X', { X: one, Y: aside('A/0002', 'X') })).toEqual([]);
  expect(chainLacks('X', { X: one, Y: { ...one, state: 'Raised' } })).toEqual([]);
});

it('puts numbers in the order in which letters are given', () => {
  const numbers = ['AA/0001', 'no number', 'B/0001', 'A/0010', 'A/0009', ''];
  const sorted = ['A/0009', 'A/0010', 'B/0001', 'AA/0001', '', 'no number'];
  expect(numbers.sort(byNumber)).toEqual(sorted);
});
