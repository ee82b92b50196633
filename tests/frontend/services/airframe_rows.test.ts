import { describe, expect, it } from 'vitest';
import {
  figureText,
  handsOf,
  isYes,
  namesOf,
  rowAt,
  said,
} from '../../../frontend/src/services/airframe_rows';

describe('namesOf', () => {
  it.each([
    ['K, B1–B3, C', ['K', 'B1', 'B2', 'B3', 'C']],
    ['K B1-B3 C', ['K', 'B1', 'B2', 'B3', 'C']],
    ['S9–S11', ['S9', 'S10', 'S11']],
    ['1-3', ['1', '2', '3']],
    ['upper skin, lower skin', ['upper skin', 'lower skin']],
    ['B3–B1, L1–R3', ['B3–B1', 'L1–R3']],
    ['', []],
  ])('reads “%s”', (text, names) => {
    expect(namesOf(text)).toEqual(names);
  });
});

describe('rows', () => {
  it('leave out what is blank, and know where the others were typed', () => {
    const rows = [{ name: 'F1' }, { name: ' ' }, {}, { name: 'F2' }];
    expect(said(rows)).toEqual([{ name: 'F1' }, { name: 'F2' }]);
    expect(rowAt(rows, 1)).toBe(3);
    expect(rowAt(rows, 9)).toBe(4);
  });

  it('read hands, yes and figures as people type them', () => {
    expect(handsOf('port, stbd C')).toEqual(['P', 'S', 'C']);
    expect(handsOf('P X')).toEqual(['P', 'X']);
    expect(['yes', 'x', 'y'].map(isYes)).toEqual([true, true, true]);
    expect(['', 'no', '–', undefined].map(isYes)).toEqual([false, false, false, false]);
    expect(figureText(' −4,50 ')).toBe('-4.50');
    expect(figureText('+12')).toBe('12');
  });
});
