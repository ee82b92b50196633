import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refused } from '../../frontend/src/domain/errors';
import { type Gauge, gaugeInches, gaugeOf } from '../../frontend/src/domain/gauge';
import {
  compare,
  copiedFrom,
  exceedsShare,
  figureText,
  isUnmeasured,
  otherUnitText,
  parseTyped,
  percentText,
  type Quantity,
  roundUpTenth,
  toTenthNm,
  type Unit,
  unmeasuredWords,
} from '../../frontend/src/domain/quantities';
import vectors from '../vectors/quantities.json';

const codeOf = (act: () => unknown) => {
  try {
    act();
  } catch (error) {
    if (error instanceof Refused) {
      expect(error.message).toMatch(/\.$/);
      return error.code;
    }
    throw error;
  }
  return 'not refused';
};

describe('quantities', () => {
  it.each(vectors.tenth_nm)('a figure is a whole number of 0.1 nm: $quantity', (row) => {
    expect(toTenthNm(row.quantity)).toBe(BigInt(row.tenth_nm));
  });

  it.each(vectors.refused)('what is no figure is refused: $quantity', (row) => {
    expect(codeOf(() => toTenthNm(row.quantity))).toBe(row.code);
  });

  it.each(vectors.typed)('a figure is kept exactly as typed: $text', (row) => {
    const typed = parseTyped(row.text, row.unit as Unit, 'signed' in row);
    expect(typed).toEqual({ value: row.value, unit: row.unit });
  });

  it.each(vectors.typed_refused)('a slip of the finger is refused: $text', (row) => {
    expect(codeOf(() => parseTyped(row.text, 'in'))).toBe(row.code);
  });

  it.each(vectors.compare)('units are brought together before comparing: $a $b', (row) => {
    expect(compare(row.a, row.b)).toBe(row.sign);
    expect(compare(row.b, row.a)).toBe(0 - row.sign);
  });

  it.each(vectors.share)('a share is exact, and printed to a tenth: $part $whole', (row) => {
    expect(exceedsShare(row.part, row.whole, row.percent)).toBe(row.exceeds);
    expect(percentText(row.part, row.whole)).toBe(row.text);
  });

  it.each(vectors.share_refused)('a share of nothing is refused: $code', (row) => {
    expect(codeOf(() => exceedsShare(row.part, row.whole, row.percent))).toBe(row.code);
  });

  it.each(vectors.other_unit)('the other unit is about as fine: $text', (row) => {
    expect(otherUnitText(row.quantity)).toBe(row.text);
  });

  it.each(vectors.copied)(
    'a figure that counts for no measurement says why: $words',
    ({ value, from, words }) => {
      const told = [copiedFrom(value), isUnmeasured(value), unmeasuredWords(value)];
      expect(told).toEqual([from, words !== '', words]);
    },
  );

  it.each(vectors.figure_text)('a figure is read with what it is sure to: $text', (row) => {
    expect(figureText(row.quantity)).toBe(row.text);
  });

  it.each(vectors.round_up_tenth)('damage is rounded up to a tenth: $quantity', (row) => {
    expect(roundUpTenth(row.quantity)).toEqual({ value: row.value, unit: row.quantity.unit });
  });

  it.each(vectors.gauge)('a gauge number writes inches: $gauge $number', (row) => {
    expect(gaugeInches(row.number, row.gauge as Gauge)).toBe(row.inches);
    expect(gaugeOf(`${row.inches}0`, row.gauge as Gauge)).toBe(row.number);
  });

  it.each(vectors.gauge_refused)('a gauge that is not in the table is refused: $number', (row) => {
    expect(codeOf(() => gaugeInches(row.number, row.gauge as Gauge))).toBe('no_such_gauge');
  });

  it('a share exactly at the limit is never over, and one step more is', () => {
    const steps = fc.integer({ min: 1, max: 50 });
    fc.assert(
      fc.property(steps, fc.constantFrom<Unit>('in', 'mm'), (tenths, unit) => {
        const whole: Quantity = { value: String(tenths), unit };
        const part = `${Math.floor(tenths / 10)}.${tenths % 10}`;
        expect(exceedsShare({ value: part, unit }, whole, '10')).toBe(false);
        expect(exceedsShare({ value: `${part}00001`, unit }, whole, '10')).toBe(true);
      }),
    );
  });
});
