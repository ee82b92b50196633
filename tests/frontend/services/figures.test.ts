import { describe, expect, it } from 'vitest';
import {
  listAddress,
  listNamed,
  newBy,
  ofAirframe,
  raisedAfter,
} from '../../../frontend/src/services/figures';
import type { DefectRow } from '../../../frontend/src/services/shop';

const row = (number: string, more: Partial<DefectRow>) =>
  ({
    record: `r${number}`,
    number,
    state: 'Raised',
    kind: 'pitting',
    grade: 2,
    stage: 'Stage 1',
    zone: '111',
    raised_on: '2025-10-11',
    cleared_on: null,
    ...more,
  }) as unknown as DefectRow;

const ROWS = [
  row('A/0001', { raised_on: '2025-03-08', state: 'Cleared', cleared_on: '2025-05-24' }),
  row('A/0002', { grade: 4, stage: null }),
  row('A/0003', { grade: null, zone: '520', kind: 'crack' }),
  row('B/0004', { grade: 4, stage: 'Stage 12', raised_on: '2025-09-06' }),
  row('B/0005', { state: 'Raised in error' }),
  row('B/0006', { state: 'Same as', kind: 'pitting' }),
];
const TODAY = '2025-11-03';
const opened = (name: string) => listNamed(ROWS, TODAY, name);

describe('the list that a figure opens', () => {
  it('holds the records that the figure counts', () => {
    expect(opened('open')?.records).toEqual(['rA/0002', 'rA/0003', 'rB/0004']);
    expect(opened('age.31–90 days')?.records).toEqual(['rB/0004']);
    expect(opened('kind.pitting')?.records).toEqual(['rA/0001', 'rA/0002', 'rB/0004']);
    expect(opened('open-kind.pitting')?.records).toEqual(['rA/0002', 'rB/0004']);
    expect(opened('live-grade.none')?.records).toEqual(['rA/0003']);
    expect(opened('open-grade.4')?.records).toEqual(['rA/0002', 'rB/0004']);
    expect(opened('state.Raised in error')?.records).toEqual(['rB/0005']);
    expect(opened('days-to-clear')?.records).toEqual(['rA/0001']);
  });

  it('says in words what it holds', () => {
    expect(opened('age.over 180 days')?.title).toBe('Open, over 180 days');
    expect(opened('kind.crack')?.title).toBe('Live, crack');
    expect(opened('new.2025-09-30.zone.520')?.title).toBe('New since 2025-09-30: Zone 520');
  });

  it('is none where the name means nothing', () => {
    for (const name of ['', 'kind.unheard of', 'state.', 'new.2025-09-30.hand.P', 'elsewhere'])
      expect(opened(name), name).toBeNull();
  });

  it('has an address that brings the same name back, whatever is in it', () => {
    for (const name of ['age.0–30 days', 'kind.a & b', 'new.2025-09-30.stage.Stage 1']) {
      const address = new URL(listAddress(name, 'A0001'), 'http://book');
      expect(address.pathname).toBe('/defects/A0001');
      expect(address.searchParams.get('list')).toBe(name);
    }
    expect(listAddress('open')).toBe('/defects?list=open');
  });
});

describe('the rows of an airframe', () => {
  it('are its own and those that name none', () => {
    const rows = ['x', 'y', null].map((airframe) => ({ airframe }) as DefectRow);
    const x = { record: 'x', type: 'Marram 7', constructor_number: '2603' };
    expect(ofAirframe(rows, x)).toEqual([rows[0], rows[2]]);
    expect(ofAirframe(rows, null)).toEqual(rows);
  });
});

describe('what is new since a day', () => {
  it('is what was raised after it, sightings too, errors not', () => {
    const numbers = (since: string) => raisedAfter(ROWS, since).map((one) => one.number);
    expect(numbers('2025-10-10')).toEqual(['A/0002', 'A/0003', 'B/0006']);
    expect(numbers('2025-10-11')).toEqual([]);
  });

  it('is counted by grade with the worst first, by stage and zone in their order', () => {
    const counts = (by: 'grade' | 'stage' | 'zone') =>
      newBy(ROWS, '2025-09-01', by).map((one) => [one.value, one.records.length]);
    expect(counts('grade')).toEqual([
      ['Grade 4', 2],
      ['Grade 2', 1],
      ['Not graded', 1],
    ]);
    expect(counts('stage')).toEqual([
      ['Stage 1', 2],
      ['Stage 12', 1],
      ['No stage', 1],
    ]);
    expect(counts('zone')).toEqual([
      ['Zone 111', 3],
      ['Zone 520', 1],
    ]);
  });

  it('opens for each count the records that make it', () => {
    for (const by of ['grade', 'stage', 'zone'] as const)
      for (const one of newBy(ROWS, '2025-09-01', by))
        expect(opened(one.name)?.records, one.name).toEqual(one.records);
    expect(opened('new.2025-09-01')?.records).toHaveLength(4);
  });
});
