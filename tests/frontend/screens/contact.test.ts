// What the title block says of the server.

import { describe, expect, it } from 'vitest';
import { dayIn, timeIn } from '../../../frontend/src/domain/days';
import { reachWords, sentAndWaiting, sentWords } from '../../../frontend/src/screens/frame/contact';
import type { ExchangeState, Waiting } from '../../../frontend/src/services/shop';

const NOW_MS = Date.UTC(2025, 10, 3, 10, 20);
const shop = {
  now: () => NOW_MS,
  moment: (ms: number): [string, string] => [
    dayIn('Europe/London', ms),
    timeIn('Europe/London', ms),
  ],
};
const state = (change: Partial<ExchangeState>): ExchangeState => ({
  ...{ running: false, away: false, last_contact_ms: null, problem: null, shut: null },
  ...{
    refused: [],
    offset_ms: 0,
    clock_off_ms: null,
    whole_ms: null,
    offered_ms: null,
    sent: null,
  },
  ...change,
});
const waiting = (records: number, photographs = 0): Waiting => ({
  ...{ records, photographs, bays: 0, entries: records, files: photographs, oldest_ms: null },
});
const SENT = { records: 14, bays: 0, photographs: 38, all: false };

describe('whether the server is within reach', () => {
  it.each<[string, Partial<ExchangeState>, string]>([
    ['it answered just now', { last_contact_ms: NOW_MS - 20_000 }, 'server here'],
    [
      'it does not answer',
      { away: true, last_contact_ms: NOW_MS - 360_000 },
      'server away since 10:14',
    ],
    [
      'it is away since yesterday',
      { away: true, last_contact_ms: NOW_MS - 86_400_000 },
      'server away since 2 Nov',
    ],
    ['it never answered', { away: true }, 'server away'],
    ['nobody asked for a while', { last_contact_ms: NOW_MS - 360_000 }, 'server here at 10:14'],
    [
      'it is being asked',
      { running: true, last_contact_ms: NOW_MS - 360_000 },
      'asking the server …',
    ],
  ])('is said where %s', (_, change, words) => {
    expect(reachWords(state(change), shop)).toBe(words);
  });
});

describe('what was sent', () => {
  it('is said with what is left', () => {
    expect(sentAndWaiting(state({ sent: SENT }), waiting(0, 2))).toBe(
      '38 photographs, 14 records sent – 2 waiting',
    );
    expect(sentAndWaiting(state({ sent: { ...SENT, all: true } }), waiting(0))).toBe(
      '38 photographs, 14 records sent – nothing waiting',
    );
  });

  it('is not said of what waits since, nor while the server is away', () => {
    expect(sentWords(state({ sent: { ...SENT, all: true } }), waiting(1))).toBe('');
    expect(sentWords(state({ sent: SENT, away: true }), waiting(1))).toBe('');
    expect(sentAndWaiting(state({}), waiting(1))).toBe('');
  });
});
