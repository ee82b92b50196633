import { describe, expect, it } from 'vitest';
import { isChanged } from '../../../frontend/src/screens/measure/looked_again';
import type { Json, Written } from '../../../frontend/src/services/shop';

const at = (entry: string, value: Json): Written => ({
  ...{ entry, value, date: '2025-11-03', by: 'p', why: null },
});
const depth = (value: string, unit = 'in') => ({ value, unit });

describe('no change, after a question to look again', () => {
  it('is out of reach once a figure was measured that differs from the one asked about', () => {
    const written = [at('1', depth('0.012')), at('3', depth('0.014'))];
    expect(isChanged('depth', written, '2')).toBe(true);
  });

  it('stands where the same figure was measured again, in whichever unit and way', () => {
    const again = { value: '0.3048', unit: 'mm', method: 'depth gauge' };
    expect(isChanged('depth', [at('1', depth('0.012')), at('3', again)], '2')).toBe(false);
    expect(isChanged('depth', [at('1', depth('0.012'))], '2')).toBe(false);
    expect(isChanged('depth', [], '2')).toBe(false);
  });

  it('is out of reach where the figure was missing when it was asked', () => {
    expect(isChanged('depth', [at('3', depth('0.014'))], '2')).toBe(true);
  });
});
