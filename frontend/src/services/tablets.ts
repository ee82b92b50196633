/** What a lead is told of each tablet: in or not, since when, and what it holds. */

import { dayNumber } from '../domain/figures';
import { readNumber, writeNumber } from '../domain/numbers';
import type { DefectRow, Json } from './shop';

/** A device as the server lists it to a lead; times are wall times of the workshop. */
export interface DeviceListed {
  device: string;
  letter: string | null;
  last_seen: string | null;
  unsent: number | null;
  shut: string | null;
}

export interface TabletShown {
  record: string;
  letter: string;
  /** The server told of this browser's tablets: it does so to a lead. */
  is_told: boolean;
  /** Seen by the server today. */
  is_in: boolean;
  /** Day it was last seen; null where nobody knows. */
  last_seen: string | null;
  /** Whole days since then. */
  days: number | null;
  /** What it said of itself when it was last seen; null where it never said. */
  unsent: number | null;
  /** Why it is let in no more. */
  shut: string | null;
  first: string | null;
  last: string | null;
  /** Numbers between first and last that are in no record here. */
  gaps: string[];
  records: number;
  drafts: number;
}

type Tablet = { record: string } & Record<string, Json>;

/** Tablets with a letter, by letter. `devices` is null where the server was never asked. */
export function tabletsShown(
  tablets: readonly Tablet[],
  rows: readonly DefectRow[],
  devices: readonly DeviceListed[] | null,
  today: string,
): TabletShown[] {
  return tablets
    .flatMap((tablet) => {
      const { letter } = tablet;
      if (typeof letter !== 'string') return [];
      const device = devices?.find((one) => one.device === tablet.record) ?? null;
      const seen = shownOf(tablet, letter, device, today);
      return [{ ...seen, is_told: devices !== null, ...heldBy(letter, rows) }];
    })
    .sort((a, b) => a.letter.length - b.letter.length || (a.letter < b.letter ? -1 : 1));
}

/** "B not in, 3 days": what the title block says of all tablets. */
export function tabletWords(tablets: readonly TabletShown[]): string {
  const out = tablets.filter((one) => !one.is_in && one.shut === null);
  if (tablets.length === 0) return 'none enrolled';
  if (tablets.some((one) => !one.is_told)) return `${tablets.length} enrolled`;
  if (out.length === 0) return 'all in';
  const [first] = out;
  if (out.length > 1) return `${out.map((one) => one.letter).join(', ')} not in`;
  return `${first?.letter} not in${first?.days ? `, ${daysText(first.days)}` : ''}`;
}

/** "in", "not in since 2025-10-31, 3 days", "lost". */
export function seenWords(tablet: TabletShown): string {
  if (tablet.shut !== null) return tablet.shut;
  if (tablet.is_in) return 'in today';
  if (!tablet.is_told) return 'not told here';
  if (tablet.last_seen === null) return 'not in; never seen by this server';
  return `not in since ${tablet.last_seen}, ${daysText(tablet.days ?? 0)}`;
}

function daysText(days: number): string {
  return days === 1 ? '1 day' : `${days} days`;
}

function shownOf(tablet: Tablet, letter: string, device: DeviceListed | null, today: string) {
  const last_seen = device?.last_seen?.slice(0, 10) ?? null;
  const [seen, now] = [dayNumber(last_seen), dayNumber(today)];
  const days = seen === null || now === null ? null : now - seen;
  const lost = tablet.lost === true ? 'marked lost' : null;
  return {
    ...{ record: tablet.record, letter, last_seen, days },
    is_in: days !== null && days <= 0,
    unsent: device?.unsent ?? null,
    shut: device?.shut ?? lost,
  };
}

/** The numbers a tablet gave, as far as their records are in this book. */
function heldBy(letter: string, rows: readonly DefectRow[]) {
  const own = rows.filter((row) => serialsOf(row, letter).length > 0);
  const serials = [...new Set(own.flatMap((row) => serialsOf(row, letter)))].sort((a, b) => a - b);
  const [first, last] = [serials[0], serials.at(-1)];
  const known = new Set(serials);
  const gaps: string[] = [];
  for (let serial = first ?? 0; serial < (last ?? 0); serial += 1)
    if (!known.has(serial)) gaps.push(writeNumber(letter, serial));
  return {
    first: first === undefined ? null : writeNumber(letter, first),
    last: last === undefined ? null : writeNumber(letter, last),
    gaps,
    records: own.length,
    drafts: own.filter((row) => row.state === 'Draft').length,
  };
}

function serialsOf(row: DefectRow, letter: string): number[] {
  const numbers = [row.number, ...row.also_numbers];
  return numbers.flatMap((number) => {
    try {
      const [own, serial] = readNumber(number ?? '');
      return own === letter ? [serial] : [];
    } catch {
      return [];
    }
  });
}
