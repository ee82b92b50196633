import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spread } from '../../../frontend/src/furniture/spread.ts';

describe('labels of a section', () => {
  it('stay at their limits where these lie apart', () => {
    expect(spread([10, 50, 98], 20, 0, 98)).toEqual([10, 50, 98]);
  });

  it('move apart where two limits lie close, and no further than needed', () => {
    expect(spread([10, 15, 50, 98], 20, 0, 98)).toEqual([10, 30, 50, 98]);
  });

  it('are pushed up from the foot', () => {
    expect(spread([90, 98], 20, 0, 98)).toEqual([78, 98]);
  });

  it('keep their order and their gap whenever all fit', () => {
    const limits = fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(limits, (wished) => {
        const places = spread(
          [...wished].sort((a, b) => a - b),
          20,
          0,
          100,
        );
        places.slice(1).forEach((place, at) => {
          expect(place - (places[at] as number)).toBeGreaterThanOrEqual(20);
        });
        expect(Math.max(...places)).toBeLessThanOrEqual(100);
      }),
    );
  });
});
