import type { DefectRow } from '../../services/shop';

/** A stage as far as the order of assessment needs it. */
export interface StageDate {
  title: string;
  date: string;
}

export interface Ordered {
  row: DefectRow;
  /** Why it stands where it does: "Grade 4 · Stage 1 in 12 days · raised 240 days ago". */
  reason: string;
  /** Why it comes after the one before: "after A/0010, which was raised earlier". */
  after: string;
}

const DAY_MS = 86_400_000;

/**
 * Records that wait for the lead, in the order to take them: highest grade first, of one grade the
 * nearest stage, then the longest raised, then by number. What is not graded stands as grade 2 ½:
 * it may be severe, and nobody knows.
 */
export function orderOfAssessment(
  rows: readonly DefectRow[],
  stages: readonly StageDate[],
  today: string,
): Ordered[] {
  const dates = new Map(stages.map((stage) => [stage.title, stage.date]));
  const stageOf = (row: DefectRow) => (row.stage ? (dates.get(row.stage) ?? '9') : '9');
  const ordered = rows
    .filter((row) => isWaiting(row, today))
    .sort(
      (one, other) =>
        weight(other) - weight(one) ||
        stageOf(one).localeCompare(stageOf(other)) ||
        raisedOn(one).localeCompare(raisedOn(other)) ||
        (one.number ?? '').localeCompare(other.number ?? ''),
    );
  return ordered.map((row, at) => ({
    row,
    reason: reasonOf(row, stageOf(row), today),
    after: afterWords(row, ordered[at - 1], stageOf),
  }));
}

function raisedOn(row: DefectRow): string {
  return row.raised_on ?? '';
}

/** What sets a record behind the one before it: the first of the order's rules that differs. */
function afterWords(
  row: DefectRow,
  before: DefectRow | undefined,
  stageOf: (row: DefectRow) => string,
): string {
  if (!before) return 'first in the order';
  const name = `after ${before.number}`;
  if (weight(before) !== weight(row)) return `${name}, which may be worse: ${before.grade_words}`;
  if (stageOf(before) !== stageOf(row)) return `${name}, whose stage comes first: ${before.stage}`;
  if (raisedOn(before) !== raisedOn(row)) return `${name}, which was raised earlier`;
  return `${name} by number: grade, stage and day are the same`;
}

/** Raised, with two states to choose from, or put off to a day that has come. */
function isWaiting(row: DefectRow, today: string): boolean {
  if (row.states.length > 1 || row.state === 'Raised') return true;
  const again = (row.deferral as { look_again_by?: string } | null)?.look_again_by;
  return row.state === 'Deferred' && again !== undefined && again <= today;
}

function weight(row: DefectRow): number {
  if (row.grade === null) return 2.5;
  return row.grade_known ? row.grade : row.grade + 0.5;
}

function reasonOf(row: DefectRow, stage_date: string, today: string): string {
  const parts = [row.grade_words];
  if (row.states.length > 1) parts.push('two states to choose from');
  if (row.state === 'Deferred') parts.push('deferred to a day that has come');
  if (stage_date !== '9') parts.push(`${row.stage} ${inDays(daysBetween(today, stage_date))}`);
  if (row.raised_on) parts.push(`raised ${daysBetween(row.raised_on, today)} days ago`);
  return parts.join(' · ');
}

function inDays(days: number): string {
  if (days === 0) return 'today';
  return days > 0 ? `in ${days} days` : `${-days} days overdue`;
}

/** Whole days from one day to another, both as "2025-11-03". */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS);
}

/** The day a number of days after another, or before it. */
export function daysAfter(day: string, days: number): string {
  return new Date(Date.parse(day) + days * DAY_MS).toISOString().slice(0, 10);
}
