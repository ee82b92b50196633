// The least finished state counts; Draft only when alone.

import { expect, it } from 'vitest';
import { STATES } from '../../frontend/src/domain/permissions';
import { WORST_FIRST, worstState } from '../../frontend/src/domain/states';

const FINISHED = [
  ...['Raised', 'Assessed', 'In work', 'Offered', 'Deferred'],
  ...['Same as', 'Raised in error', 'Cleared'],
];

it('orders every state once', () => {
  expect([...WORST_FIRST].sort()).toEqual([...STATES].sort());
});

it('takes the least finished of any states, in whatever order they come', () => {
  FINISHED.forEach((one, at) => {
    for (const other of FINISHED.slice(at)) {
      expect(worstState([one, other, 'Draft'])).toBe(one);
      expect(worstState(['Draft', other, one])).toBe(one);
    }
  });
});

it('takes Draft alone, nothing for none, and a state unknown here before all others', () => {
  expect(worstState(['Draft'])).toBe('Draft');
  expect(worstState([])).toBeNull();
  expect(worstState(['Raised', 'Quarantined'])).toBe('Quarantined');
});
