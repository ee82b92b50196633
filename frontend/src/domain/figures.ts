/** Check figures of a book: how many are open, how bad, how old, of which kind.

Each bar names the records that make it, so that what it opens and what it counts agree. */

import { HIGHEST, kindWords } from './kinds';
import { STATES } from './permissions';
import type { DefectRow } from './projection';
import { roundedText } from './quantities';

export type FigureRow = Pick<
  DefectRow,
  'record' | 'state' | 'kind' | 'grade' | 'raised_on' | 'cleared_on'
>;

export interface Bar {
  count: number;
  records: string[];
}

export interface KindBar extends Bar {
  kind: string | null;
  kind_words: string;
  /** Decimal text; null where there are too few records for a percentage. */
  percent: string | null;
  running_percent: string | null;
}

export interface Figures {
  as_at: string;
  records: Bar;
  open: Bar;
  live: Bar;
  states: (Bar & { state: string })[];
  /** The last, null, is what was not graded. */
  live_by_grade: (Bar & { grade: number | null })[];
  open_by_grade: (Bar & { grade: number | null })[];
  open_by_age: (Bar & { band: string })[];
  kinds: KindBar[];
  days_to_clear: Bar & { days: number[]; median: string | null };
  deferred: Bar & { oldest: string | null };
  left_out: { nil: number; same_as: number; raised_in_error: number; draft: number };
}

type Rows = readonly FigureRow[];

const OPEN: readonly (string | null)[] = ['Raised', 'Assessed', 'In work', 'Offered', 'Deferred'];
const AGES: readonly [low: number, high: number | null][] = [
  [0, 30],
  [31, 90],
  [91, 180],
  [181, null],
];
/** Of fewer records than this no percentage is given: it would look surer than it is. */
const FEWEST_FOR_PERCENT = 20;
const DATE = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/;
const DAY_MS = 86_400_000;
/** The day before the first of year 1, from which days are counted as on the server. */
const FIRST_DAY = Date.parse('0000-12-31T00:00:00Z') / DAY_MS;

/** A date as the number of its day, or null where it is no date. */
export function dayNumber(text: unknown): number | null {
  if (typeof text !== 'string' || !DATE.test(text) || text.startsWith('0000')) return null;
  const at = Date.parse(`${text}T00:00:00Z`);
  if (Number.isNaN(at) || new Date(at).toISOString().slice(0, 10) !== text) return null;
  return at / DAY_MS - FIRST_DAY;
}

/** The check figures of rows as at a day.

Live are all but same-as, raised in error, nil and drafts. Ages run from the day a record was first
raised. Bands of age and grades sum to what is open. */
export function figures(rows: Rows, today: string): Figures {
  const every = rows.filter((row) => row.state !== null);
  const open = every.filter((row) => OPEN.includes(row.state));
  const live = every.filter((row) => isLive(row));
  const count = (state: string) => every.filter((row) => row.state === state).length;
  return {
    as_at: today,
    records: barOf(every),
    open: barOf(open),
    live: barOf(live),
    states: STATES.map((state) => ({
      state,
      ...barOf(every.filter((row) => row.state === state)),
    })),
    live_by_grade: gradesOf(live),
    open_by_grade: gradesOf(open),
    open_by_age: agesOf(open, today),
    kinds: kindsOf(live),
    days_to_clear: daysToClear(live),
    deferred: deferredOf(open),
    left_out: {
      nil: every.filter((row) => row.kind === 'nil').length,
      same_as: count('Same as'),
      raised_in_error: count('Raised in error'),
      draft: count('Draft'),
    },
  };
}

function isLive({ state, kind }: FigureRow): boolean {
  return (OPEN.includes(state) || state === 'Cleared') && kind !== 'nil';
}

function barOf(rows: Rows): Bar {
  return { count: rows.length, records: rows.map((row) => row.record) };
}

function gradesOf(rows: Rows): Figures['open_by_grade'] {
  const known = Array.from({ length: HIGHEST + 1 }, (_, grade) => grade);
  const gradeOf = ({ grade }: FigureRow) =>
    grade !== null && known.includes(grade) ? grade : null;
  return [...known, null].map((grade) => ({
    grade,
    ...barOf(rows.filter((row) => gradeOf(row) === grade)),
  }));
}

/** A bar for each band of age; the last is of those that no date is known of. */
function agesOf(rows: Rows, today: string): Figures['open_by_age'] {
  const now = dayNumber(today);
  const aged = rows.map((row) => ({ row, age: ageOf(row, now) }));
  const bar = (holds: (age: number | null) => boolean) =>
    barOf(aged.filter(({ age }) => holds(age)).map(({ row }) => row));
  const bands = AGES.map(([low, high]) => ({
    band: high === null ? `over ${low - 1} days` : `${low}–${high} days`,
    ...bar((age) => age !== null && low <= age && (high === null || age <= high)),
  }));
  return [...bands, { band: 'date not known', ...bar((age) => age === null) }];
}

function ageOf(row: FigureRow, now: number | null): number | null {
  const raised = dayNumber(row.raised_on);
  // A tablet's clock may be ahead of the day asked about.
  return raised === null || now === null ? null : Math.max(now - raised, 0);
}

/** A bar for each kind in falling order, with its share and the running share. */
function kindsOf(rows: Rows): KindBar[] {
  const bundles = new Map<string | null, FigureRow[]>();
  for (const row of rows) bundles.set(row.kind, [...(bundles.get(row.kind) ?? []), row]);
  const name = (kind: string | null) => kind ?? '';
  const ordered = [...bundles].sort(
    ([a, some], [b, others]) =>
      others.length - some.length || (name(a) < name(b) ? -1 : name(a) > name(b) ? 1 : 0),
  );
  let running = 0;
  return ordered.map(([kind, some]) => {
    running += some.length;
    return {
      kind,
      kind_words: kindWords(kind),
      ...barOf(some),
      percent: percentOf(some.length, rows.length),
      running_percent: percentOf(running, rows.length),
    };
  });
}

function percentOf(part: number, whole: number): string | null {
  return whole < FEWEST_FOR_PERCENT ? null : roundedText(BigInt(part) * 100n, BigInt(whole), 1);
}

/** The days from raised to cleared, shortest first, and their median. */
function daysToClear(rows: Rows): Figures['days_to_clear'] {
  const taken = rows.flatMap(({ record, state, raised_on, cleared_on }) => {
    const [raised, cleared] = [dayNumber(raised_on), dayNumber(cleared_on)];
    if (state !== 'Cleared' || raised === null || cleared === null) return [];
    return [{ record, days: cleared - raised }];
  });
  taken.sort((a, b) => a.days - b.days || (a.record < b.record ? -1 : 1));
  const days = taken.map((one) => one.days);
  const records = taken.map((one) => one.record);
  return { count: days.length, records, days, median: medianOf(days) };
}

/** The middle of days in order, of two the mean; no figure where there are none. */
function medianOf(days: readonly number[]): string | null {
  const [low, high] = [days[(days.length - 1) >> 1], days[days.length >> 1]];
  if (low === undefined || high === undefined) return null;
  const twice = low + high;
  return roundedText(BigInt(twice), 2n, Math.abs(twice % 2));
}

function deferredOf(rows: Rows): Figures['deferred'] {
  const some = rows.filter((row) => row.state === 'Deferred');
  const dates = some.flatMap((row) => (dayNumber(row.raised_on) === null ? [] : row.raised_on));
  return { ...barOf(some), oldest: (dates as string[]).sort()[0] ?? null };
}
