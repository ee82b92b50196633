import { fromLine, makeEntry, toLine } from '@sync/entry';
import { describe, expect, it } from 'vitest';
import { Clock, wallText } from '../../../frontend/src/services/clock';

const MOMENT_MS = Date.UTC(2025, 10, 3, 23, 15, 30, 250);

describe('wallText', () => {
  it.each([
    [0, '2025-11-03T23:15:30.250+00:00'],
    [60, '2025-11-04T00:15:30.250+01:00'],
    [-210, '2025-11-03T19:45:30.250-03:30'],
  ])('writes local time with an offset of %i minutes', (minutes, text) => {
    expect(wallText(MOMENT_MS, minutes)).toBe(text);
    expect(Date.parse(text)).toBe(MOMENT_MS);
  });

  it('is a wall that entries take', () => {
    const act = { id: 'a', of: 1 };
    const where = { record: 'r', kind: 'defect', by: 'p', device: 'A', schema: 1 };
    const id = '1762157730250-0000-abcdefgh';
    const entry = makeEntry({ ...where, id, n: 1, act, set: {}, wall: new Clock().wall() });
    expect(fromLine(toLine(entry)).wall).toBe(entry.wall);
  });
});

describe('Clock', () => {
  it('corrects the time and leaves the wall as the tablet has it', () => {
    const clock = new Clock(() => MOMENT_MS);
    clock.offset_ms = -86_400_000;
    expect(clock.now_ms()).toBe(MOMENT_MS - 86_400_000);
    expect(clock.today()).toBe('2025-11-02');
    expect(Date.parse(clock.wall())).toBe(MOMENT_MS);
  });
});
