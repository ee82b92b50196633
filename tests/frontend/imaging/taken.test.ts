import { describe, expect, it } from 'vitest';
import { takenOf, takenUtcMs } from '../../../frontend/src/imaging/taken';

const exif = (rest: object) => ({ orientation: 1, taken_at: '2024:05:17 14:03:22', ...rest });
const utc = (rest: object) => {
  const taken = takenOf(exif(rest));
  const ms = taken && takenUtcMs(taken);
  return ms === null ? null : new Date(ms).toISOString();
};

describe('takenOf', () => {
  // CV-94. CIPA DC-008, Exif 2.32, SubSecTimeOriginal: the digits are a fraction (from memory).
  it.each([
    ['05', '2024-05-17T13:03:22.050Z'],
    ['5', '2024-05-17T13:03:22.500Z'],
  ])('reads %s as a fraction of a second', (fraction, expected) => {
    expect(utc({ taken_offset: '+01:00', taken_fraction: fraction })).toBe(expected);
  });

  // CV-95 (common practice, no source).
  it('has no moment in UTC without a zone, whatever zone the device is in', () => {
    expect(takenOf(exif({}))).toEqual({ wall: '2024-05-17T14:03:22', offset: 'unknown' });
    expect(utc({})).toBeNull();
  });

  it.each(['   :  :     :  :  ', '0000:00:00 00:00:00', 'yesterday', ''])(
    'takes %j for no time',
    (taken_at) => {
      expect(takenOf({ orientation: 1, taken_at })).toBeNull();
    },
  );

  it('leaves a fraction and a zone out that do not read', () => {
    expect(takenOf(exif({ taken_fraction: 'x', taken_offset: 'CET' }))).toEqual({
      wall: '2024-05-17T14:03:22',
      offset: 'unknown',
    });
  });
});
