import { describe, expect, it } from 'vitest';
import { dayLack } from '../../../frontend/src/screens/frame/day_field';

describe('a typed day', () => {
  it('is taken as year, month and day, and nothing typed lacks nothing', () => {
    for (const text of ['2025-11-03', ' 2024-02-29 ', '']) expect(dayLack(text)).toBeNull();
  });

  it('is refused with the way to write it', () => {
    for (const text of ['11/03/2025', '2025-02-30', '2025-13-01', '3 Nov', '0000-01-01'])
      expect(dayLack(text)).toBe(`${text} is no day. Write it as 2025-11-03.`);
  });

  it('is no later than the last that may be given', () => {
    expect(dayLack('2025-11-04', '2025-11-03')).toBe(
      '2025-11-04 has not come yet. Give a day up to 2025-11-03.',
    );
    expect(dayLack('2025-11-03', '2025-11-03')).toBeNull();
  });
});
