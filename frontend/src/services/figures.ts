/** Lists that a figure opens. A list has a name that stands in an address, so that the count on the
 * sheet and the records in the defect book come from one rule. */

import { type Bar, type Figures, figures } from '../domain/figures';
import { kindWords } from '../domain/kinds';
import type { Airframe, DefectRow } from './shop';

export interface Opened {
  name: string;
  /** What the list holds: "Open, over 180 days old". */
  title: string;
  records: readonly string[];
}

/** What new records are sorted by. */
export const NEW_BY = ['grade', 'stage', 'zone'] as const;
export type NewBy = (typeof NEW_BY)[number];

export interface Counted extends Opened {
  /** The value that these share: "Grade 3", "Stage 1", "111". */
  value: string;
}

const NONE = 'none';
const NONE_WORDS: Record<NewBy, string> = {
  grade: 'Not graded',
  stage: 'No stage',
  zone: 'Outside every zone',
};

/** Rows of one airframe: figures are never summed over two. */
export function ofAirframe(rows: readonly DefectRow[], airframe: Airframe | null): DefectRow[] {
  return rows.filter(
    (row) => airframe === null || (row.airframe ?? airframe.record) === airframe.record,
  );
}

/** The address of the defect book that shows one list. */
export function listAddress(name: string, number = ''): string {
  return `/defects${number && `/${number}`}?${new URLSearchParams({ list: name })}`;
}

/** The list of a name, or null where the name means nothing. */
export function listNamed(rows: readonly DefectRow[], today: string, name: string): Opened | null {
  const [first = '', ...rest] = name.split('.');
  if (first === 'new') return newListNamed(rows, rest);
  const opened = openedBy(figures(rows, today), first, rest.join('.'));
  return opened && { name, title: opened.title, records: opened.bar.records };
}

/** Rows raised after a day, by what they share; what was raised in error is left out. */
export function newBy(rows: readonly DefectRow[], since: string, by: NewBy): Counted[] {
  const bundles = new Map<string, string[]>();
  for (const row of raisedAfter(rows, since)) {
    const value = sharedOf(row, by);
    bundles.set(value, [...(bundles.get(value) ?? []), row.record]);
  }
  return [...bundles]
    .sort(([a], [b]) => inOrder(by, a, b))
    .map(([value, records]) => ({
      name: `new.${since}.${by}.${value}`,
      title: `New since ${since}: ${wordsOf(by, value)}`,
      value: wordsOf(by, value),
      records,
    }));
}

/** Rows raised after a day. */
export function raisedAfter(rows: readonly DefectRow[], since: string): DefectRow[] {
  return rows.filter((row) => isShown(row) && (row.raised_on ?? '') > since);
}

function isShown({ state }: DefectRow): boolean {
  return state !== null && state !== 'Raised in error' && state !== 'Draft';
}

function newListNamed(rows: readonly DefectRow[], [since = '', by, ...rest]: string[]) {
  if (by === undefined) {
    const records = raisedAfter(rows, since).map((row) => row.record);
    return { name: `new.${since}`, title: `New since ${since}`, records };
  }
  if (!NEW_BY.includes(by as NewBy)) return null;
  const name = ['new', since, by, ...rest].join('.');
  const value = rest.join('.');
  const found = newBy(rows, since, by as NewBy).find((one) => one.name === name);
  const title = `New since ${since}: ${wordsOf(by as NewBy, value)}`;
  return found ?? { name, title, records: [] };
}

function sharedOf(row: DefectRow, by: NewBy): string {
  if (by === 'grade') return row.grade === null ? NONE : String(row.grade);
  return (by === 'stage' ? row.stage : row.zone) || NONE;
}

function wordsOf(by: NewBy, value: string): string {
  if (value === NONE) return NONE_WORDS[by];
  if (by === 'grade') return `Grade ${value}`;
  return by === 'zone' ? `Zone ${value}` : value;
}

/** Highest grade first, stages and zones by their number, what has none last. */
function inOrder(by: NewBy, a: string, b: string): number {
  if (a === NONE || b === NONE) return Number(a === NONE) - Number(b === NONE);
  return (by === 'grade' ? -1 : 1) * a.localeCompare(b, 'en', { numeric: true });
}

interface Named {
  title: string;
  bar: Pick<Bar, 'records'>;
}

function openedBy(found: Figures, first: string, rest: string): Named | null {
  const named = (title: string, bar: Pick<Bar, 'records'> | undefined) => bar && { title, bar };
  const { open, live } = found;
  switch (first) {
    case 'records':
      return { title: 'All records', bar: found.records };
    case 'open':
      return { title: 'Open', bar: open };
    case 'live':
      return { title: 'Live sightings', bar: live };
    case 'state':
      return (
        named(
          rest,
          found.states.find(({ state }) => state === rest),
        ) ?? null
      );
    case 'live-grade':
      return named(`Live, ${gradeText(rest)}`, graded(found.live_by_grade, rest)) ?? null;
    case 'open-grade':
      return named(`Open, ${gradeText(rest)}`, graded(found.open_by_grade, rest)) ?? null;
    case 'age':
      return (
        named(
          `Open, ${rest}`,
          found.open_by_age.find(({ band }) => band === rest),
        ) ?? null
      );
    case 'kind':
      return named(`Live, ${kindTitle(rest)}`, ofKind(found, rest)) ?? null;
    case 'open-kind':
      return named(`Open, ${kindTitle(rest)}`, openOfKind(found, rest)) ?? null;
    case 'days-to-clear':
      return { title: 'Cleared, with days to clear', bar: found.days_to_clear };
    default:
      return null;
  }
}

function graded(bars: Figures['live_by_grade'], rest: string) {
  return bars.find(({ grade }) => String(grade ?? NONE) === rest);
}

function gradeText(rest: string): string {
  return rest === NONE ? 'not graded' : `Grade ${rest}`;
}

function kindTitle(rest: string): string {
  return kindWords(rest === NONE ? null : rest).toLowerCase();
}

function ofKind(found: Figures, rest: string) {
  return found.kinds.find(({ kind }) => (kind ?? NONE) === rest);
}

/** Those of a kind that are still open. */
export function openOfKind(found: Figures, rest: string): { records: string[] } | undefined {
  const open = new Set(found.open.records);
  const bar = ofKind(found, rest);
  return bar && { records: bar.records.filter((record) => open.has(record)) };
}
