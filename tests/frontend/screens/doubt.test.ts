import { describe, expect, it } from 'vitest';
import type { Typed } from '../../../frontend/src/furniture/figures';
import { cellWords } from '../../../frontend/src/screens/measure/asked';
import { doubtOf, secondOf, shownOf } from '../../../frontend/src/screens/measure/doubt';
import { accuracyOf } from '../../../frontend/src/screens/measure/instrument';

const LENGTH = { type: 'quantity' } as const;
const DG = { value: '0.001', unit: 'in', of: 'DG-1' } as const;

function typed(value: string, more: Partial<Typed> = {}): Typed {
  return { value, unit: 'in', not_measured: false, ...more };
}

describe('the ± of a figure that is being typed', () => {
  it('is none where nobody said one and the instrument has none', () => {
    expect(doubtOf(LENGTH, typed('0.38'), null)).toBeNull();
    expect(shownOf(LENGTH, typed('0.38'), null)).toBe('0.38');
  });

  it('is what was typed, in the unit of the figure', () => {
    const now = typed('7.5', { doubt: '0.5', unit: 'mm' });
    expect(doubtOf(LENGTH, now, DG)).toEqual({ value: '0.5', unit: 'mm' });
    expect(shownOf(LENGTH, now, DG)).toBe('7.5 ± 0.5');
    expect(secondOf(now, false, DG)).toBe('k = 2');
  });

  it('is else the accuracy of the instrument, and says whose it is', () => {
    expect(doubtOf(LENGTH, typed('0.012'), DG)).toEqual(DG);
    expect(shownOf(LENGTH, typed('0.012'), DG)).toBe('0.012 ± 0.001');
    expect(secondOf(typed('0.012'), false, DG)).toBe('± of DG-1');
    expect(secondOf(typed('0.3', { unit: 'mm' }), false, DG)).toBe('± 0.001 in, of DG-1');
  });

  it('is none where the instrument’s was rubbed out', () => {
    const now = typed('0.012', { doubt: '', at_doubt: true });
    expect(doubtOf(LENGTH, now, DG)).toBeNull();
    expect(shownOf(LENGTH, now, DG)).toBe('0.012 ± …');
    expect(secondOf(now, false, DG)).toBeUndefined();
  });

  it('is refused where it says that a figure is exact, or is none', () => {
    expect(() => doubtOf(LENGTH, typed('0.38', { doubt: '0.00' }), null)).toThrow('none is');
    expect(() => doubtOf(LENGTH, typed('0.38', { doubt: '0.00000000001' }), null)).toThrow('finer');
  });

  it('belongs to measured lengths only', () => {
    const now = typed('16', { doubt: '1' });
    expect(doubtOf({ type: 'whole' }, now, DG)).toBeNull();
    expect(doubtOf({ type: 'percent' }, now, DG)).toBeNull();
    expect(doubtOf(LENGTH, { ...now, unit: 'SWG' }, DG)).toBeNull();
    expect(shownOf(LENGTH, { ...now, unit: 'SWG' }, DG)).toBe('16');
  });
});

describe('the accuracy of an instrument', () => {
  const one = { name: 'DG-1', title: 'depth gauge', accuracy: { value: '0.001', unit: 'in' } };

  it('is offered for what is measured with it, by its name', () => {
    expect(accuracyOf(one, 'depth')).toEqual(DG);
    expect(accuracyOf(one, 'length')).toBeNull();
  });

  it('is never made up', () => {
    for (const accuracy of [undefined, null, 'fine', { value: '0', unit: 'in' }, { value: 'a' }])
      expect(accuracyOf({ ...one, accuracy }, 'depth')).toBeNull();
  });
});

describe('the cell of a stored figure', () => {
  const asked = { field: 'depth', label: 'Depth', type: 'quantity' } as const;
  const words = (uncertainty: object) =>
    cellWords(asked, { value: '0.38', unit: 'in', uncertainty } as never, () => 'other');

  it('shows its ± before the unit, and whose it is', () => {
    expect(words({ value: '0.02', unit: 'in' })).toEqual({
      ...{ value: '0.38 ± 0.02', unit: 'in', second: 'other' },
    });
    expect(words(DG)).toEqual({ value: '0.38 ± 0.001', unit: 'in', second: '± of DG-1' });
  });

  it('names both units where they differ', () => {
    expect(words({ value: '0.5', unit: 'mm' }).value).toBe('0.38 in ± 0.5 mm');
  });
});
