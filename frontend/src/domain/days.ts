/** The day an entry is shown under: by corrected time, in the workshop's time zone. */

import { decode } from '@sync/clock';
import type { Entry } from '@sync/entry';

export type Day = (entry: Entry) => string;

/** The day of a moment in a zone, "2025-11-03". */
export function dayIn(zone: string, ms: number): string {
  return dayWith(formatOf(zone), ms);
}

/** What tells the day of an entry, as 2025-11-03.

An id is stamped with time that was put right by the server; the raw time stays in the entry.
`came_ms`: by id when those entries arrived that are stamped too far ahead to be believed. */
export function daysIn(zone: string, came_ms: ReadonlyMap<string, number> = new Map()): Day {
  const format = formatOf(zone);
  return ({ id }) => dayWith(format, came_ms.get(id) ?? decode(id).last_ms);
}

const FORMATS = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  const known = FORMATS.get(zone);
  if (known) return known;
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  });
  FORMATS.set(zone, format);
  return format;
}

function dayWith(format: Intl.DateTimeFormat, ms: number): string {
  const parts = format.formatToParts(ms);
  const part = (type: string) => parts.find((each) => each.type === type)?.value ?? '';
  return `${part('year')}-${part('month')}-${part('day')}`;
}

export const dayStamped = daysIn('UTC');
