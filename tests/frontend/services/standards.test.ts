// The limits of a standard of acceptance, found in its conditions and typed anew.
import { describe, expect, it } from 'vitest';
import type { Json } from '../../../frontend/src/services/shop';
import { limitsOf, nextIssue, withLimit } from '../../../frontend/src/services/standards';
import qs7 from '../../../sample_data/skinpin_demo/data/standard_qs7.json';

const rows = qs7.rows as unknown as { rule: string; when: Json }[];
const whenOf = (rule: string) => rows.find((row) => row.rule === rule)?.when as Json;
const words = (when: Json) =>
  limitsOf(when).map(({ sign, value, unit }) => `${sign} ${value} ${unit}`.trim());

describe('the limits of a standard of acceptance', () => {
  it('are found with their signs and units, within others too', () => {
    expect(words(whenOf('AL2'))).toEqual(['> 0.001 in', '≤ 0.010 in']);
    expect(words(whenOf('AL4'))).toEqual(['> 10 %']);
    expect(words(whenOf('AL5'))).toEqual(['≥ 50 %']);
    expect(words(whenOf('DT2'))).toEqual(['> 0.05', '≤ 0.10']);
    expect(words(whenOf('RV3'))).toEqual(['≥ 3']);
    expect(words(whenOf('CK1'))).toEqual([]);
  });

  it('are typed anew one by one, and what is typed back is what was', () => {
    for (const { when } of rows) {
      for (const { path, value } of limitsOf(when)) {
        const other = withLimit(when, path, '7.25');
        expect(limitsOf(other).filter((one) => one.value === '7.25')).toHaveLength(1);
        expect(withLimit(other, path, value)).toEqual(when);
      }
    }
  });

  it('go on with the next number where the issue is one', () => {
    expect(['1', '9', 'B', '2a'].map(nextIssue)).toEqual(['2', '10', 'B', '2a']);
  });
});
