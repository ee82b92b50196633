import { describe, expect, it } from 'vitest';
import { scaleOf } from '../../../frontend/src/screens/figures/bars';

describe('the scale of a plot', () => {
  it('holds the longest bar in two to five whole steps', () => {
    expect(scaleOf(16)).toEqual({ step: 5, end: 20 });
    expect(scaleOf(11)).toEqual({ step: 5, end: 15 });
    expect(scaleOf(1)).toEqual({ step: 1, end: 2 });
    expect(scaleOf(126)).toEqual({ step: 50, end: 150 });
    for (let most = 1; most < 3000; most += 7) {
      const { step, end } = scaleOf(most);
      expect(end).toBeGreaterThanOrEqual(most);
      expect(end % step).toBe(0);
      expect(end / step).toBeLessThanOrEqual(5);
      expect(end / step).toBeGreaterThanOrEqual(2);
    }
  });
});
