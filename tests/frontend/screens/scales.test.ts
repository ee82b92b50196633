import { describe, expect, it } from 'vitest';
import {
  draftOf,
  lastBarOf,
  refuseBar,
  SCALE_KINDS,
  type ScaleKind,
  scaleOfCard,
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
    expect(draftOf(kindOf('BANK CARD'), [])).toMatchObject({
      width: { value: '85.60', unit: 'mm', uncertainty: { value: '0.13', unit: 'mm' } },
      height: { value: '53.98', unit: 'mm', uncertainty: { value: '0.06', unit: 'mm' } },
    });
  });

  it('the bar of the card is 90 to 110 mm, or typed wrong', () => {
    for (const one of ['90', '99.6', '110']) expect(() => refuseBar(one)).not.toThrow();
    for (const one of ['89.9', '110.1', '3.94', '1000']) {
      const message = `${one} mm is not near the 100 mm that the bar of the card is.`;
      expect(() => refuseBar(one)).toThrow(expect.objectContaining({ code: 'odd_bar', message }));
    }
  });

  it('the printed card is as sure as its bar was measured', () => {
    const layout = { width_mm: 80, height_mm: 50, bar_mm: 100, issue: '1', corner_px: '0.3' };
    const corners = [[0, 0], [1, 0], [1, 1], [0, 1]] as const; // biome-ignore format: a line
    const card = { corners, residual_px: 0.1 } as unknown as Parameters<typeof scaleOfCard>[0];
    const { width, height } = scaleOfCard(card, layout, '99.5');
    expect([width?.value, width?.uncertainty?.value]).toEqual(['79.600', '0.040']);
    expect([height?.value, height?.uncertainty?.value]).toEqual(['49.750', '0.025']);
  });

  it('the bar is offered as it was measured last, never from a scale that was struck', () => {
    const on = (measured: string, more = {}) => ({ card: { id: '1', measured }, ...more });
    expect(lastBarOf([on('99.6'), on('100.4', { struck: true })])).toBe('99.6');
    expect(lastBarOf([on('99.6'), on('100.4'), {}, { card: null }])).toBe('100.4');
    expect(lastBarOf([on('100.4', { struck: true })])).toBe('');
  });
});
