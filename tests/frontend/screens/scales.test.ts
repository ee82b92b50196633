import { describe, expect, it } from 'vitest';
import {
  draftOf,
  lastBarOf,
  refuseBar,
  SCALE_KINDS,
  type ScaleKind,
  typedFigure,
} from '../../../frontend/src/screens/measuring/scales';

const kindOf = (label: string) => SCALE_KINDS.find((one) => one.label === label) as ScaleKind;

describe('figures of a scale', () => {
  it.each([
    ['25', '0.5'],
    ['3.00', '0.005'],
    ['0.8', '0.05'],
    ['25.', '0.5'],
  ])('%s is sure to half of its last place, %s', (value, sure) => {
    expect(typedFigure(value, 'mm').uncertainty).toEqual({ value: sure, unit: 'mm' });
  });

  it('each keeps the unit that it was typed in', () => {
    const typed = [typedFigure('1.25', 'in'), typedFigure('20', 'mm')];
    expect(draftOf(kindOf('FOUR RIVETS'), typed)).toEqual({
      ...{ object: 'rivet pitch', method: 'rectangle' },
      width: { value: '1.25', unit: 'in', uncertainty: { value: '0.005', unit: 'in' } },
      height: { value: '20', unit: 'mm', uncertainty: { value: '0.5', unit: 'mm' } },
    });
    expect(draftOf(kindOf('BANK CARD'), []).width).toEqual({ value: '85.60', unit: 'mm' });
  });

  it('the bar of the card is 90 to 110 mm, or typed wrong', () => {
    for (const one of ['90', '99.6', '110']) expect(() => refuseBar(one)).not.toThrow();
    for (const one of ['89.9', '110.1', '3.94', '1000']) {
      const message = `${one} mm is not near the 100 mm that the bar of the card is.`;
      expect(() => refuseBar(one)).toThrow(expect.objectContaining({ code: 'odd_bar', message }));
    }
  });

  it('the bar is offered as it was measured last, never from a scale that was struck', () => {
    const on = (measured: string, more = {}) => ({ card: { id: '1', measured }, ...more });
    expect(lastBarOf([on('99.6'), on('100.4', { struck: true })])).toBe('99.6');
    expect(lastBarOf([on('99.6'), on('100.4'), {}, { card: null }])).toBe('100.4');
    expect(lastBarOf([on('100.4', { struck: true })])).toBe('');
  });
});
