import { describe, expect, it } from 'vitest';
import {
  daysAfter,
  daysBetween,
  orderOfAssessment,
} from '../../../frontend/src/screens/assessment/order';
import { progressOf } from '../../../frontend/src/screens/assessment/sitting';
import type { DefectRow } from '../../../frontend/src/services/shop';

const row = (number: string, more: Partial<DefectRow>) =>
  ({
    record: number,
    number,
    state: 'Raised',
    states: ['Raised'],
    grade: 2,
    grade_known: true,
    grade_words: 'Grade 2',
    stage: null,
    deferral: null,
    raised_on: '2025-09-06',
    ...more,
  }) as unknown as DefectRow;

const STAGES = [
  { title: 'Stage 1', date: '2025-11-15' },
  { title: 'Stage 3', date: '2025-12-06' },
];
const numbers = (rows: DefectRow[]) =>
  orderOfAssessment(rows, STAGES, '2025-11-03').map((one) => one.row.number);

describe('the order of assessment', () => {
  it('takes the highest grade first, then the nearest stage, then the longest raised', () => {
    const rows = [
      row('A/0001', { grade: 3, stage: 'Stage 3' }),
      row('A/0002', { grade: 4 }),
      row('A/0003', { grade: 3, stage: 'Stage 1' }),
      row('A/0004', { grade: 3, stage: 'Stage 3', raised_on: '2025-03-08' }),
    ];
    expect(numbers(rows)).toEqual(['A/0002', 'A/0003', 'A/0004', 'A/0001']);
  });

  it('never lets an unknown grade sink below moderate', () => {
    const rows = [
      row('A/0001', {}),
      row('A/0002', { grade: null, grade_known: false }),
      row('A/0003', { grade: 2, grade_known: false }),
      row('A/0004', { grade: 3 }),
    ];
    expect(numbers(rows)).toEqual(['A/0004', 'A/0002', 'A/0003', 'A/0001']);
  });

  it('leaves out what is decided, and brings back what was put off to a day that has come', () => {
    const deferral = { look_again_by: '2025-11-03' };
    const rows = [
      row('A/0001', { state: 'Assessed', states: ['Assessed'] }),
      row('A/0002', { state: 'Deferred', states: ['Deferred'], deferral }),
      row('A/0003', {
        state: 'Deferred',
        states: ['Deferred'],
        deferral: { look_again_by: '2025-11-04' },
      }),
      row('A/0004', { state: 'Assessed', states: ['Assessed', 'In work'] }),
    ];
    expect(numbers(rows)).toEqual(['A/0002', 'A/0004']);
  });

  it('says why each stands where it does', () => {
    const [first] = orderOfAssessment(
      [row('A/0001', { stage: 'Stage 1', raised_on: '2025-03-08' })],
      STAGES,
      '2025-11-03',
    );
    expect(first?.reason).toBe('Grade 2 · Stage 1 in 12 days · raised 240 days ago');
  });

  it('counts days over a change of the clocks and a leap day as whole days', () => {
    expect(daysBetween('2025-03-29', '2025-03-31')).toBe(2);
    expect(daysBetween('2024-02-28', '2024-03-01')).toBe(2);
  });

  it('says what sets each behind the one before it', () => {
    const rows = [
      row('A/0001', { grade: 4 }),
      row('A/0002', { grade: 3, stage: 'Stage 1' }),
      row('A/0003', { grade: 3, stage: 'Stage 3' }),
      row('A/0004', { grade: 3, stage: 'Stage 3', raised_on: '2025-10-11' }),
      row('A/0005', { grade: 3, stage: 'Stage 3', raised_on: '2025-10-11' }),
    ].map((one) => ({ ...one, grade_words: `Grade ${one.grade}` }));
    const after = orderOfAssessment(rows, STAGES, '2025-11-03').map((one) => one.after);
    expect(after).toEqual([
      'first in the order',
      'after A/0001, which may be worse: Grade 4',
      'after A/0002, whose stage comes first: Stage 1',
      'after A/0003, which was raised earlier',
      'after A/0004 by number: grade, stage and day are the same',
    ]);
  });

  it('finds the day some days before, over the end of a month and a year', () => {
    expect(daysAfter('2025-11-03', -30)).toBe('2025-10-04');
    expect(daysAfter('2026-01-02', -7)).toBe('2025-12-26');
  });
});

describe('progress', () => {
  it('counts what waited today and is decided, whatever came meanwhile', () => {
    expect(progressOf(['a', 'b', 'c'], ['a', 'b', 'c'])).toEqual({ done: 0, all: 3 });
    expect(progressOf(['a', 'b', 'c'], ['c', 'd'])).toEqual({ done: 2, all: 4 });
    expect(progressOf([], [])).toEqual({ done: 0, all: 0 });
  });
});
