// The day of an entry: its stamp's, in the workshop's zone, or that of its arrival.

import type { Entry } from '@sync/entry';
import { expect, it } from 'vitest';
import { dayIn, dayStamped, daysIn, momentsIn, timeIn } from '../../frontend/src/domain/days';

const MOMENT_MS = Date.UTC(2025, 10, 3, 23, 15, 30, 250);
const LATE = { id: `${MOMENT_MS}-0000-tableta1`, wall: '2026-11-25T10:15:00+00:00' } as Entry;

it('is the day of the stamp in the zone of the workshop, and not of the raw time', () => {
  expect(dayStamped(LATE)).toBe('2025-11-03');
  expect(daysIn('Europe/Berlin')(LATE)).toBe('2025-11-04');
  expect(dayIn('Europe/London', MOMENT_MS)).toBe('2025-11-03');
  expect(dayIn('America/St_Johns', MOMENT_MS)).toBe('2025-11-03');
});

it('is the day of arrival of an entry stamped too far ahead', () => {
  const day = daysIn('Europe/London', new Map([[LATE.id, Date.UTC(2025, 9, 31, 22)]]));
  expect(day(LATE)).toBe('2025-10-31');
  expect(day({ id: `${MOMENT_MS}-0001-tableta1` } as Entry)).toBe('2025-11-03');
});

it('is told with its time of day, midnight as 00', () => {
  expect(momentsIn('Europe/Berlin')(LATE)).toEqual(['2025-11-04', '00:15']);
  expect(timeIn('Europe/London', MOMENT_MS)).toBe('23:15');
  const moment = momentsIn('Europe/London', new Map([[LATE.id, 1_761_950_400_000]]));
  expect(moment(LATE)).toEqual(['2025-10-31', '22:40']);
});
