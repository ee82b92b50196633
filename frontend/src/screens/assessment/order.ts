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
  return rows
    .filter((row) => isWaiting(row, today))
    .sort(
      (one, other) =>
        weight(other) - weight(one) ||
        stageOf(one).localeCompare(stageOf(other)) ||
        (one.raised_on ?? '').localeCompare(other.raised_on ?? '') ||
        (one.number ?? '').localeCompare(other.number ?? ''),
    )
    .map((row) => ({ row, reason: reasonOf(row, stageOf(row), today) }));
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

/** How many of the rows have each value, the greatest number first. */
export function counted(rows: readonly DefectRow[], of: (row: DefectRow) => string | null) {
  const counts = new Map<string, number>();
  for (const row of rows) {
    const name = of(row) ?? 'none';
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  return [...counts].sort((one, other) => other[1] - one[1] || one[0].localeCompare(other[0]));
}
