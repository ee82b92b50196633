// The leader of a ringed point keeps off the names below a view.

import { describe, expect, it } from 'vitest';
import { clearOf } from '../../../frontend/src/screens/frame/drawn_view';

describe('the leader of a ringed point', () => {
  const names = [{ y: 200 }, { y: 203 }];

  it('runs at its own height where no name stands', () => {
    expect(clearOf(names, 10, 150)).toBe(150);
    expect(clearOf(names, 10, 240)).toBe(240);
    expect(clearOf([], 10, 200)).toBe(200);
  });

  it('runs below the names that it would strike through', () => {
    for (const height of [189, 196, 200, 204]) expect(clearOf(names, 10, height)).toBe(209);
  });
});
