// When two values that stand are one.

import { expect, it } from 'vitest';
import {
  byNature,
  copiedIn,
  differing,
  settledValue,
  standingOf,
  twoValues,
} from '../../frontend/src/domain/values';

it.each([
  ['depth', { value: '0.0625', unit: 'in' }, { value: '1.5875', unit: 'mm' }],
  ['depth', { value: '0.010', unit: 'in' }, { value: '0.01', unit: 'in' }],
  ['strength_percent', '62', '62.0'],
  ['state', { move: 'start', to: 'In work' }, { move: 'reject', to: 'In work' }],
  ['place', { member: 'F6', strakes: ['K'] }, { strakes: ['K'], member: 'F6' }],
])('takes %s typed differently for one value', (field, one, two) => {
  const values = { e1: { [field]: one }, e2: { [field]: two } };
  expect(differing('defect', values, field)).toHaveLength(1);
});

it.each([
  ['depth', { value: '0.011', unit: 'in' }, { value: '0.011', unit: 'mm' }],
  ['depth', { value: '0.011', unit: 'in' }, 'not measured'],
  ['depth', { value: '0.011', unit: 'in' }, null],
  ['run', 1, true],
  ['run', 1, '1'],
  ['strength_percent', '6', '60'],
  ['place', { strakes: ['K', 'B1'] }, { strakes: ['B1', 'K'] }],
])('keeps two values of %s that say other things', (field, one, two) => {
  const values = { e1: { [field]: one }, e2: { [field]: two } };
  expect(differing('defect', values, field)).toEqual([one, two]);
  expect(twoValues('defect', values)).toEqual([field]);
  expect(settledValue('defect', values, field)).toBeNull();
});

it('gives values in the order of their entries, null being none', () => {
  const values = { e3: { part: 'c' }, e1: { part: null }, e2: { part: 'b' }, e4: { tag: 't' } };
  expect(standingOf(values, 'part')).toEqual(['b', 'c']);
  expect(settledValue('defect', values, 'tag')).toBe('t');
});

const COPIED = { value: '0.011', unit: 'in', copied_from: 'D/0001' };

it.each([[{ value: '0.011', unit: 'in' }], ['not measured'], [null]])(
  'takes a copied figure for none beside %j',
  (measured) => {
    const values = { e1: { depth: COPIED }, e2: { depth: measured } };
    expect(differing('defect', values, 'depth')).toEqual([measured]);
    expect(settledValue('defect', values, 'depth')).toEqual(measured);
    expect([twoValues('defect', values), copiedIn('defect', values)]).toEqual([[], []]);
  },
);

it('tells of a copied figure that stands alone that it is copied', () => {
  const values = { e1: { depth: COPIED, width: COPIED }, e2: { run: 2, width: COPIED } };
  expect(settledValue('defect', values, 'depth')).toEqual(COPIED);
  expect(copiedIn('defect', values)).toEqual(['depth', 'width']);
});

it('puts stages in the order of their figures', () => {
  const long = '9'.repeat(5000);
  const stages = ['Stage 10', 'Stage 2', 'Stage 02b', 'Roll out', '2', long];
  const sorted = ['2', long, 'Roll out', 'Stage 2', 'Stage 02b', 'Stage 10'];
  expect(stages.sort(byNature)).toEqual(sorted);
});
