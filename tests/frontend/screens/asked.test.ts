import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { cellWords, isOpen, nextOpen } from '../../../frontend/src/screens/measure/asked';
import {
  askedFor,
  deeperWords,
  gradedOf,
  materialAsked,
} from '../../../frontend/src/screens/measure/graded';
import { bandsOf, limitsOf } from '../../../frontend/src/screens/measure/limits';
import type { Standard } from '../../../frontend/src/services/shop';

const QS7 = JSON.parse(
  readFileSync('sample_data/skinpin_demo/data/standard_qs7.json', 'utf8'),
) as Standard;
const PIT = { kind: 'pitting', material: 'AL', thickness: { value: '0.064', unit: 'in' as const } };

describe('what a kind asks for', () => {
  it('goes from one needed field to the next and passes by what may be left out', () => {
    const asked = askedFor(PIT);
    expect(nextOpen(asked, PIT, null)?.field).toBe('length');
    expect(nextOpen(asked, PIT, 'depth')?.field).toBe('cleaned');
    expect(nextOpen(asked, PIT, 'cleaned')).toBeNull();
  });

  it('asks for the material where no part says it and the limits hang on it', () => {
    const fields = (values: Record<string, string>) =>
      materialAsked(values, QS7).map((one) => one.field);
    expect(fields({ kind: 'pitting' })).toEqual(['material']);
    expect(fields({ kind: 'pitting', part: 'strut' })).toEqual(['material']);
    // Answered it stays in its cell, to be corrected; what the drawing says is not asked.
    expect(fields({ kind: 'pitting', material: 'AL' })).toEqual(['material']);
    expect(fields({ kind: 'pitting', material: 'AL', part: 'bottom plating' })).toEqual([]);
    expect(fields({ kind: 'nil' })).toEqual([]);
    const [asked] = materialAsked({ kind: 'pitting' }, QS7);
    if (!asked) throw new Error('No material is asked.');
    expect(cellWords(asked, 'ST', () => '')).toEqual({ value: 'Steel' });
  });

  it('takes "not measured" for an answer', () => {
    expect(nextOpen(askedFor(PIT), { ...PIT, length: 'not measured' }, null)?.field).toBe('width');
    const [asked] = askedFor(PIT);
    if (!asked) throw new Error('A pit asks for nothing.');
    expect(cellWords(asked, 'not measured', () => 'other')).toEqual({ value: 'not measured' });
  });

  it('takes a copied figure for a hint, not for an answer', () => {
    const length = { value: '5', unit: 'in' as const, copied_from: 'D/0001' };
    expect(nextOpen(askedFor(PIT), { ...PIT, length }, null)?.field).toBe('length');
    const asked = askedFor(PIT).find((one) => one.field === 'length');
    if (!asked) throw new Error('A pit asks for no length.');
    expect(cellWords(asked, length, () => 'other')).toEqual({
      ...{ value: '5 in', second: 'as D/0001, not measured here', hint: true },
    });
  });
});

describe('a figure whose scale was struck', () => {
  const width = { value: '0.30', unit: 'in' as const, scale_withdrawn: true };

  it('is struck through in its cell, said to be withdrawn, and asked for again', () => {
    const asked = askedFor(PIT).find((one) => one.field === 'width');
    if (!asked) throw new Error('A pit asks for no width.');
    expect(cellWords(asked, width, () => 'other')).toEqual({
      ...{ value: '0.30 in', second: 'scale withdrawn', hint: true, struck: true },
    });
    expect(isOpen(width)).toBe(true);
  });
});

describe('the grade while a figure is typed', () => {
  it('without a standard says that none is here, on a tablet or in a browser at a desk', () => {
    const told = (here?: 'in this browser') => gradedOf(PIT, null, null, null, [], here);
    expect(told().missing_words).toBe('No standard of acceptance is on this tablet yet.');
    const desk = 'No standard of acceptance is in this browser yet.';
    expect(told('in this browser').missing_words).toBe(desk);
  });

  it('is that of the figure in its place, before it is stored', () => {
    const depth = askedFor(PIT).find((one) => one.field === 'depth') ?? null;
    const typed = { value: '0.012', unit: 'in' };
    expect(gradedOf({ ...PIT, cleaned: 'yes' }, depth, typed, QS7).words).toBe('Grade 3');
    expect(gradedOf({ ...PIT, cleaned: 'yes' }, depth, null, QS7).words).toBe('Not graded ?');
    const copied = { ...PIT, depth: { ...typed, copied_from: 'D/0001' } };
    const hinted = gradedOf(copied, depth, null, QS7);
    expect([hinted.words, hinted.loss_words, hinted.section?.depth]).toEqual([
      ...['Not graded ?', 'Loss of thickness: ?', null],
    ]);
    expect(gradedOf({ ...copied, cleaned: 'yes' }, depth, typed, QS7).words).toBe('Grade 3');
  });

  it('asks whether a loss deeper than the plate was typed right, whatever the units', () => {
    const typed = (value: string, unit: 'in' | 'mm' = 'in') => ({ ...PIT, depth: { value, unit } });
    expect(deeperWords(typed('0.08'))).toBe('Deeper than the plate – typed right?');
    expect(deeperWords(typed('1.63', 'mm'))).toBe('Deeper than the plate – typed right?');
    for (const right of [typed('0.064'), typed('1.62', 'mm'), PIT, { ...typed('9'), kind: 'dent' }])
      expect(deeperWords(right)).toBeUndefined();
    const copied = { ...PIT, depth: { value: '0.08', unit: 'in', copied_from: 'D/0001' } };
    expect(deeperWords(copied)).toBeUndefined();
  });

  it('draws the limits of the standard itself, with the grade of each band', () => {
    const limits = limitsOf(QS7, 'pitting', 'AL');
    expect(limits.map((one) => [one.label, one.grade])).toEqual([
      ['10 %', 3],
      ['50 %', 4],
    ]);
    expect(bandsOf(limits).map((one) => one.share)).toEqual([0.3, 0.75]);
  });
});
