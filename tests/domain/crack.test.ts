import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crack, type Observation, rootText } from '../../frontend/src/domain/crack';
import { wholeRoot } from '../../frontend/src/domain/crack_rate';
import type { Quantity } from '../../frontend/src/domain/quantities';
import vectors from '../vectors/crack.json';

const read = (observations: unknown) => observations as Observation[];

describe('crack', () => {
  it('the demo crack comes out to the figure', () => {
    const { demo } = vectors;
    const told = crack(read(demo.observations), demo.limit as Quantity);
    expect(told).toEqual(demo.crack);
    expect(told.rate?.words).toBe('0.028 in per 30 days, standard error 0.006, 4 points');
    expect(told.points.at(-1)?.since_first?.words).toBe('Since 03-08: +0.19, growth proved (CK3)');
  });

  it.each(vectors.cases)('$name', (row) => {
    expect(crack(read(row.observations), row.limit as Quantity | null, row.to)).toEqual(row.crack);
  });

  it.each(vectors.refused)('$name is refused', (row) => {
    expect(() => crack(read(row.observations))).toThrow(
      expect.objectContaining({ code: row.code }),
    );
  });

  it('a whole root is the largest whose square fits', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 0n, max: 10n ** 60n }), (square) => {
        const root = wholeRoot(square);
        expect(root ** 2n <= square && square < (root + 1n) ** 2n).toBe(true);
      }),
    );
  });

  it('a root is rounded half up', () => {
    expect(rootText(9n, 4n, 1n, 0)).toBe('2');
    expect(rootText(224n, 100n, 1n, 0)).toBe('1');
    expect(rootText(2n, 1n, 1n, 3)).toBe('1.414');
  });

  it('a larger uncertainty never makes a claim', () => {
    const seen = (date: string, length: number, uncertainty: string): Observation => ({
      date,
      length: {
        value: `${length / 100}`,
        unit: 'in',
        uncertainty: { value: uncertainty, unit: 'in' },
      },
    });
    fc.assert(
      fc.property(fc.nat(300), fc.nat(300), (first, second) => {
        const grows = (doubt: string) =>
          crack([seen('2025-03-08', first, '0.03'), seen('2025-04-07', second, doubt)])
            .growth_shown;
        expect(grows('0.03') || !grows('0.5')).toBe(true);
      }),
    );
  });
});
