/** When a photograph was taken, as the camera says; the device's own zone is never assumed. */

import type { Exif } from './exif';

export interface Taken {
  /** Local time of the camera, "2024-05-17T14:03:22.05". */
  wall: string;
  /** "+01:00", or "unknown" where the camera gave none. */
  offset: string;
}

const DATE = /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)$/;
const OFFSET = /^[+-]\d\d:\d\d$/;

/** Returns the time a photograph was taken, null where the camera gives none. */
export function takenOf(exif: Exif): Taken | null {
  const parts = DATE.exec(exif.taken_at ?? '');
  if (!parts || Number(parts[2]) === 0) return null;
  const fraction = /^\d{1,9}$/.test(exif.taken_fraction ?? '') ? `.${exif.taken_fraction}` : '';
  const [, year, month, day, hour, minute, second] = parts;
  return {
    wall: `${year}-${month}-${day}T${hour}:${minute}:${second}${fraction}`,
    offset: OFFSET.test(exif.taken_offset ?? '') ? (exif.taken_offset as string) : 'unknown',
  };
}

/** Returns the moment in UTC milliseconds, null while the zone is unknown. */
export function takenUtcMs(taken: Taken): number | null {
  if (taken.offset === 'unknown') return null;
  const ms = Date.parse(`${taken.wall}${taken.offset}`);
  return Number.isNaN(ms) ? null : ms;
}
