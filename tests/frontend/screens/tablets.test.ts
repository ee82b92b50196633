// What the register says of a tablet, and what to do about it.

import { describe, expect, it } from 'vitest';
import { offsetWords } from '../../../frontend/src/screens/frame/clock_words';
import {
  noticesOf,
  numbersWords,
  rangeWords,
  type TabletRow,
  type Told,
  waitsWords,
} from '../../../frontend/src/screens/tablets/register';

const HOUR_MS = 3_600_000;
const told = (change: Partial<Told> = {}): Told => ({
  ...{ version: 'x', entries: 0, files: 0, refused: 0, oldest_ms: null, offset_ms: 0 },
  ...{ battery_percent: null, room_photographs: null },
  ...change,
});
const row = (change: Partial<TabletRow> = {}): TabletRow => ({
  ...{ device: 't1', name: 'A', letter: 'A', enrolled_by: 'p1', enrolled_at: '', last_seen: null },
  ...{ shut: null, told: told(), told_at: null, old_app: false, behind: false, forked: false },
  numbers: { first: 'A/0001', last: 'A/0009', told_last: null, records: 9, words: [] },
  ...change,
});
const said = (change: Partial<TabletRow>) => noticesOf(row(change)).map(({ what }) => what);

describe('what wants doing about a tablet', () => {
  it('is nothing where all is well', () => expect(said({})).toEqual([]));

  it.each<[string, Partial<TabletRow>, string]>([
    ['ended', { shut: 'Tablet A was ended by a lead: lost.' }, 'Tablet A was ended'],
    ['a clone', { forked: true }, 'Two copies of tablet A'],
    ['refused entries', { told: told({ refused: 2 }) }, 'refused 2 entries'],
    ['not here since a restore', { behind: true }, 'put back from a backup'],
    ['a wrong clock', { told: told({ offset_ms: -3 * HOUR_MS }) }, '3 h fast'],
    ['an old app', { old_app: true }, 'older app'],
    ['three days unsent', { told: told({ oldest_ms: 73 * HOUR_MS }) }, '3 days old'],
  ])('says so of %s, with a step to take', (_, change, words) => {
    const [notice, ...more] = noticesOf(row(change));
    expect(more).toEqual([]);
    expect(notice?.what).toContain(words);
    expect(notice?.todo.length).toBeGreaterThan(20);
  });

  it('warns at two days and insists at five', () => {
    const weight = (hours: number) =>
      noticesOf(row({ told: told({ oldest_ms: hours * HOUR_MS }) }))[0]?.weight;
    expect([47, 48, 119, 120].map(weight)).toEqual([undefined, 'plain', 'plain', 'error']);
  });

  it('names each number that two records bear, before what is less', () => {
    const words = [{ why: 'on two records', first: 'A/0002', last: 'A/0003' }];
    const numbers = { first: 'A/0001', last: 'A/0009', told_last: null, records: 9, words };
    expect(said({ numbers, forked: true })[0]).toBe('A/0002–0003 stands on two records.');
  });

  it('says of a tablet that is out which numbers may come later', () => {
    const [notice] = noticesOf(row({ shut: 'Tablet A was marked lost.' }));
    expect(notice?.todo).toContain('A/0009; later ones may exist');
  });
});

describe('words of the register', () => {
  it.each([
    [null, 'not told'],
    [told(), 'nothing'],
    [told({ entries: 3, files: 1, oldest_ms: 26 * HOUR_MS }), '3 entries, 1 file, oldest 26 h'],
    [told({ entries: 1, oldest_ms: 5 * 60_000 }), '1 entry, oldest 5 min'],
    [told({ files: 2, oldest_ms: 80 * HOUR_MS }), '2 files, oldest 3 days'],
  ])('of what waits: %j is %s', (one, words) => expect(waitsWords(one)).toBe(words));

  it('writes a run of numbers short', () => {
    expect(rangeWords({ why: '', first: 'A/0003', last: 'A/0003' })).toBe('A/0003');
    expect(rangeWords({ why: '', first: 'AA/0003', last: 'AA/0012' })).toBe('AA/0003–0012');
    expect(numbersWords(row().numbers as never)).toBe('A/0001–0009, 9 records');
  });

  it.each([
    [0, 'right'],
    [900, 'right'],
    [-12_000, '12 s fast'],
    [185 * 60_000, '3 h 5 min slow'],
    [-3 * HOUR_MS, '3 h fast'],
    [56 * 365 * 24 * HOUR_MS, '20440 days slow'],
  ])('of a clock: %d ms is %s', (ms, words) => expect(offsetWords(ms)).toBe(words));
});
