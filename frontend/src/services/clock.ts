/** Time on this browser: raw as it shows it, corrected as the server has it, and as text. */

import { dayIn, isZone } from '../domain/days';

export class Clock {
  /** What must be added to the raw time; from the last answer of the server. */
  offset_ms = 0;
  private wished = 'UTC';
  private checked: string | null = 'UTC';

  constructor(readonly raw_ms: () => number = Date.now) {}

  /** IANA zone of the workshop; its days are the days of the book. UTC for a zone unknown here.

  It is checked when it is first asked for: nothing at a start takes longer than a calendar. */
  get zone(): string {
    this.checked ??= isZone(this.wished) ? this.wished : 'UTC';
    return this.checked;
  }

  set zone(zone: string) {
    if (zone === this.wished) return;
    this.wished = zone;
    this.checked = null;
  }

  /** Corrected time of now. */
  now_ms(): number {
    return this.raw_ms() + this.offset_ms;
  }

  /** Raw local time of now with its offset from UTC, as entries carry it. */
  wall(): string {
    const ms = this.raw_ms();
    return wallText(ms, -new Date(ms).getTimezoneOffset());
  }

  /** The workshop's day of now. */
  today(): string {
    return dayIn(this.zone, this.now_ms());
  }
}

/** Writes a moment as local time with its offset: "2025-11-03T08:15:30.250+00:00". */
export function wallText(ms: number, offset_minutes: number): string {
  const local = new Date(ms + offset_minutes * 60_000).toISOString().slice(0, -1);
  const size = Math.abs(offset_minutes);
  const two = (value: number) => String(value).padStart(2, '0');
  const sign = offset_minutes < 0 ? '-' : '+';
  return `${local}${sign}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
