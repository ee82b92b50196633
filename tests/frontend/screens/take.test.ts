// What the sheet of taking says of what is here and how old it is.

import { describe, expect, it } from 'vitest';
import { dayIn, timeIn } from '../../../frontend/src/domain/days';
import {
  ageWords,
  hereCounts,
  hereWords,
  stepWords,
  whenWords,
  zoneNames,
} from '../../../frontend/src/screens/take/words';

const NOW_MS = Date.UTC(2025, 10, 3, 10, 20);
const shop = {
  now: () => NOW_MS,
  moment: (ms: number): [string, string] => [dayIn('UTC', ms), timeIn('UTC', ms)],
};
const need = (photographs: number, here: number) => ({ photographs, here, bytes: 0 });

describe('words of what is here', () => {
  it('gives the time of today, and the day of another', () => {
    expect(whenWords(NOW_MS - 360_000, shop)).toBe('10:14');
    expect(whenWords(NOW_MS - 86_400_000, shop)).toBe('2025-11-02 10:20');
  });

  it.each([
    [0, 'just now'],
    [12 * 60_000, '12 minutes old'],
    [26 * 3_600_000, '26 hours old'],
    [50 * 3_600_000, '2 days old'],
  ])('says an age of %d ms as %s', (ms, words) => expect(ageWords(ms)).toBe(words));

  it.each([
    [need(0, 0), 'none'],
    [need(30, 30), 'all 30 here'],
    [need(30, 24), '24 of 30 here'],
  ])('says of photographs %j: %s', (one, words) => expect(hereWords(one)).toBe(words));

  it('says it shorter on a zone', () => {
    expect([hereCounts(need(7, 7)), hereCounts(need(7, 0))]).toEqual(['all 7', '0 of 7']);
  });

  it('names the zones', () => {
    expect([[], ['111'], ['111', '112']].map(zoneNames)).toEqual([
      'no zone chosen',
      'zone 111',
      'zones 111, 112',
    ]);
  });

  it('says what a run does now', () => {
    const none = { running: true, problem: null, not_there: 0, taken: null };
    const words = (step: 'log' | 'photographs', of = 0) =>
      stepWords({ ...none, step, done: 3, of });
    expect(words('log')).toBe('fetching the log …');
    expect(words('photographs')).toBe('looking what lacks …');
    expect(words('photographs', 12)).toBe('3 of 12 copies of photographs');
  });
});
