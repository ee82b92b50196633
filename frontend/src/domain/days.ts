/** The moment an entry is shown under: by corrected time, in the workshop's time zone. */

import { decode } from '@sync/clock';
import type { Entry } from '@sync/entry';

export type Day = (entry: Entry) => string;
/** Day and time of day of an entry: "2025-11-03", "10:14". */
export type Moment = (entry: Entry) => [day: string, time: string];

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

/** What tells day and time of an entry; the arguments are those of `daysIn`. */
export function momentsIn(zone: string, came_ms: ReadonlyMap<string, number> = new Map()): Moment {
  const format = formatOf(zone);
  return ({ id }) => {
    const ms = came_ms.get(id) ?? decode(id).last_ms;
    return [dayWith(format, ms), timeWith(format, ms)];
  };
}

/** The time of day of a moment in a zone, "10:14". */
export function timeIn(zone: string, ms: number): string {
  return timeWith(formatOf(zone), ms);
}

/** Whether the calendar of this browser knows a zone by its IANA name. */
export function isZone(zone: string): boolean {
  try {
    formatOf(zone);
    return true;
  } catch {
    return false;
  }
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
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  });
  FORMATS.set(zone, format);
  return format;
}

type Part = (type: Intl.DateTimeFormatPartTypes) => string;

function partsOf(format: Intl.DateTimeFormat, ms: number): Part {
  const parts = format.formatToParts(ms);
  return (type) => parts.find((each) => each.type === type)?.value ?? '';
}

function dayWith(format: Intl.DateTimeFormat, ms: number): string {
  const part = partsOf(format, ms);
  return `${part('year')}-${part('month')}-${part('day')}`;
}

function timeWith(format: Intl.DateTimeFormat, ms: number): string {
  const part = partsOf(format, ms);
  return `${part('hour')}:${part('minute')}`;
}

// Made when first asked: a format takes longer to make than all else of this file at a start.
export const dayStamped: Day = (entry) => daysIn('UTC')(entry);
export const momentStamped: Moment = (entry) => momentsIn('UTC')(entry);
