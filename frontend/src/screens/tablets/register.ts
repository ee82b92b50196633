/** The register of tablets as the server hands it out, in the words of the sheet. */

import { offsetWords } from '../frame/clock_words';

export interface NumbersWord {
  why: string;
  first: string;
  last: string;
}

export interface Numbers {
  first: string | null;
  last: string | null;
  told_last: string | null;
  records: number;
  words: NumbersWord[];
}

export interface Told {
  version: string;
  entries: number;
  files: number;
  refused: number;
  /** Age of what waits longest, as it is now. */
  oldest_ms: number | null;
  offset_ms: number;
  battery_percent: number | null;
  room_photographs: number | null;
}

export interface TabletRow {
  device: string;
  name: string;
  letter: string | null;
  enrolled_by: string;
  enrolled_at: string;
  last_seen: string | null;
  shut: string | null;
  told: Told | null;
  told_at: string | null;
  old_app: boolean;
  behind: boolean;
  forked: boolean;
  numbers: Numbers | null;
}

const DAY_MS = 86_400_000;
/** More than this and the times of a tablet need a word. */
const CLOCK_MS = 120_000;

/** What wants doing about a tablet: a sentence, and what to do. */
export interface Notice {
  what: string;
  todo: string;
  /** error: it can't wait. */
  weight: 'plain' | 'error';
}

/** Everything about a tablet that wants doing, the worst first. */
export function noticesOf(row: TabletRow): Notice[] {
  const found = [shut(row), clone(row), ...numbersOnTwo(row), refused(row), old(row), behind(row)];
  const all = [...found, clock(row), app(row)].filter((one) => one !== null);
  return all.sort((a, b) => Number(b.weight === 'error') - Number(a.weight === 'error'));
}

function shut({ shut, numbers }: TabletRow): Notice | null {
  if (shut === null) return null;
  const last = numbers?.last
    ? ` Its last number here is ${numbers.last}; later ones may exist.`
    : '';
  const todo = `What waits on it stays there: enrol it again with a code and it is sent.${last}`;
  return { what: shut, todo, weight: 'plain' };
}

function clone({ forked, letter }: TabletRow): Notice | null {
  if (!forked) return null;
  return {
    what: `Two copies of ${letter ? `tablet ${letter}` : 'this desk'} have written.`,
    todo: 'Two pages at once do that, and a tablet put back from a copy. Nothing is lost. If there are two tablets, end this letter and enrol each of them anew.',
    weight: 'plain',
  };
}

function numbersOnTwo({ numbers }: TabletRow): Notice[] {
  const on_two = numbers?.words.filter(({ why }) => why === 'on two records') ?? [];
  return on_two.map((one) => ({
    what: `${rangeWords(one)} stands on two records.`,
    todo: 'Both are kept. The lead gives one of them a new number; the old one still finds it.',
    weight: 'error',
  }));
}

function refused({ told }: TabletRow): Notice | null {
  if (!told?.refused) return null;
  return {
    what: `The server refused ${counted(told.refused, 'entry', 'entries')} of it.`,
    todo: 'They stay on the tablet: look under Waiting there, and enter by hand what they say.',
    weight: 'error',
  };
}

function old({ told }: TabletRow): Notice | null {
  const age_ms = told?.oldest_ms ?? 0;
  if (age_ms < 2 * DAY_MS) return null;
  const what = `What waits on it is ${Math.floor(age_ms / DAY_MS)} days old.`;
  const todo = 'It is in one place only: bring it in and press SEND NOW.';
  return { what, todo, weight: age_ms < 5 * DAY_MS ? 'plain' : 'error' };
}

function behind({ behind }: TabletRow): Notice | null {
  if (!behind) return null;
  return {
    what: 'It was not here since the book was put back from a backup.',
    todo: 'It may hold what the backup lacked: bring it in before anything is cleared or reported.',
    weight: 'error',
  };
}

function clock({ told }: TabletRow): Notice | null {
  if (!told || Math.abs(told.offset_ms) < CLOCK_MS) return null;
  const what = `Its clock is ${offsetWords(told.offset_ms)}.`;
  return { what, todo: 'Times are corrected. Set it when it is at hand.', weight: 'plain' };
}

function app({ old_app }: TabletRow): Notice | null {
  if (!old_app) return null;
  const todo = 'Opened once more in reach of the server, it offers the new one. What waits stays.';
  return { what: 'It runs an older app than the server’s.', todo, weight: 'plain' };
}

/** "3 entries, 2 files, oldest 26 hours"; "nothing"; "not told". */
export function waitsWords(told: Told | null): string {
  if (!told) return 'not told';
  const parts = [counted(told.entries, 'entry', 'entries'), counted(told.files, 'file')];
  const words = parts.filter(Boolean).join(', ');
  if (!words) return 'nothing';
  return told.oldest_ms === null ? words : `${words}, oldest ${ageWords(told.oldest_ms)}`;
}

function ageWords(ms: number): string {
  const hours = Math.floor(ms / 3_600_000);
  if (hours < 1) return `${Math.max(1, Math.floor(ms / 60_000))} min`;
  return hours < 48 ? `${hours} h` : `${Math.floor(hours / 24)} days`;
}

/** "A/0003", "A/0003–0005". */
export function rangeWords({ first, last }: NumbersWord): string {
  return first === last ? first : `${first}–${last.split('/')[1]}`;
}

/** "A/0001–0031, 29 records". */
export function numbersWords({ first, last, records }: Numbers): string {
  if (!first || !last) return 'no number yet';
  return `${rangeWords({ why: '', first, last })}, ${counted(records, 'record')}`;
}

/** "2025-11-03 08:15" of a wall time. */
export function minuteOf(wall: string | null): string {
  return wall ? wall.slice(0, 16).replace('T', ' ') : 'never';
}

function counted(count: number, one: string, many = `${one}s`): string {
  return count === 0 ? '' : `${count} ${count === 1 ? one : many}`;
}
