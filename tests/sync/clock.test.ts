import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Clock,
  decode,
  encode,
  MAX_AHEAD_MS,
  newClock,
  newWriter,
  offsetMs,
  receive,
  runsAhead,
  tick,
} from '../../sync/typescript/clock.ts';
import vectors from '../../sync/vectors/clock.json';
import { isAhead } from './server';

const RUNS = { numRuns: 300 };
const NOW_MS = 1_762_157_730_250;
const HOUR_MS = 3_600_000;
const FIFTY_YEARS_MS = 50 * 31_557_600_000;
const clockOf = ([writer, last_ms, counter]: unknown[]): Clock =>
  ({ writer, last_ms, counter }) as Clock;

describe('clock', () => {
  it.each(vectors.encode)('writes and reads $id', ({ clock, id }) => {
    expect(encode(clockOf(clock))).toBe(id);
    expect(decode(id)).toEqual(clockOf(clock));
  });

  it.each(vectors.no_id)('reads no stamp from %j', (text) => {
    expect(() => decode(text)).toThrow('is no id');
  });

  it.each(vectors.tick)('ticks when $what', ({ clock, now_ms, id }) => {
    if (id === null) expect(() => tick(clockOf(clock), now_ms)).toThrow('Set the time');
    else {
      const [after, stamp] = tick(clockOf(clock), now_ms);
      expect([stamp, encode(after)]).toEqual([id, id]);
    }
  });

  it.each(vectors.receive)('receives: $what', ({ clock, id, now_ms, after }) => {
    expect(receive(clockOf(clock), id, now_ms)).toEqual(clockOf(after));
  });

  it('knows ahead, offset and writers as in the vectors', () => {
    for (const one of vectors.is_ahead) expect(isAhead(one.id, one.now_ms)).toBe(one.ahead);
    for (const one of vectors.offset) {
      const offset = offsetMs(one.server_ms, one.sent_ms, one.received_ms);
      expect(offset).toBe(one.offset_ms);
    }
    for (const one of vectors.new_writer)
      expect(newWriter(Uint8Array.from(Buffer.from(one.bytes, 'hex')))).toBe(one.writer);
    expect(() => newWriter(new Uint8Array(7))).toThrow('7 were given');
  });
});

const walk = {
  steady: (times: number[]) => [...times].sort((a, b) => a - b),
  stuttering: (times: number[]) => times.map(() => times[0] as number),
  'going back': (times: number[]) => [...times].sort((a, b) => b - a),
};
const times = fc.array(fc.integer({ min: NOW_MS - 9, max: NOW_MS + 9 }), {
  minLength: 1,
  maxLength: 12,
});
const stamps = fc
  .tuple(
    fc.oneof(
      fc.integer({ min: NOW_MS - 9, max: NOW_MS + 9 }),
      fc.constantFrom(NOW_MS + HOUR_MS, NOW_MS - HOUR_MS, NOW_MS + FIFTY_YEARS_MS),
    ),
    fc.constantFrom(0, 1, 0xfffe, 0xffff),
  )
  .map(([ms, counter]) => encode({ writer: 'remotexx', last_ms: ms, counter }));

describe.each(Object.entries(walk))('a clock %s', (_, shown) => {
  it('makes local stamps that strictly increase', () => {
    fc.assert(
      fc.property(times, fc.constantFrom(0, 0xfffd), (list, counter) => {
        let clock: Clock = { writer: 'localxxx', last_ms: NOW_MS, counter };
        let before = encode(clock);
        for (const now_ms of shown(list)) {
          const [after, stamp] = tick(clock, now_ms);
          expect(stamp > before).toBe(true);
          [clock, before] = [after, stamp];
        }
      }),
      RUNS,
    );
  });

  it('makes stamps later than every believable one received', () => {
    fc.assert(
      fc.property(times, fc.array(stamps, { minLength: 1, maxLength: 12 }), (list, remote) => {
        let clock = newClock('localxxx');
        shown(list).forEach((now_ms, at) => {
          const before = clock;
          const stamp = remote[at % remote.length] as string;
          clock = receive(clock, stamp, now_ms);
          expect(receive(clock, stamp, now_ms)).toEqual(clock);
          if (isAhead(stamp, now_ms)) expect(clock).toEqual(before);
          const [after, made] = tick(clock, now_ms);
          expect(made > stamp || isAhead(stamp, now_ms)).toBe(true);
          expect(made > encode(before)).toBe(true);
          expect(runsAhead(after, Math.max(...list) + MAX_AHEAD_MS)).toBe(false);
          clock = after;
        });
      }),
      RUNS,
    );
  });
});

it('orders texts as clocks, whatever the writers', () => {
  fc.assert(
    fc.property(stamps, stamps, (one, other) => {
      const [a, b] = [decode(one), decode(other)];
      const isBefore = a.last_ms < b.last_ms || (a.last_ms === b.last_ms && a.counter < b.counter);
      expect(one < other).toBe(isBefore);
      expect(encode(a)).toBe(one);
    }),
    RUNS,
  );
});

it('gives up a writer that was led ahead and begins at the right time', () => {
  const [wrong] = tick(newClock('wrongxxx'), NOW_MS + FIFTY_YEARS_MS);
  expect(runsAhead(wrong, NOW_MS)).toBe(true);
  expect(decode(tick(newClock('rightxxx'), NOW_MS)[1]).last_ms).toBe(NOW_MS);
});
