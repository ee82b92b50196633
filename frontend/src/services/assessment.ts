/** What may be decided about a record, with what speaks for it: suggested, never set. */

import { dispositionsFor } from '../domain/kinds';
import type { DefectRow, Written } from './shop';

export interface Suggestion {
  disposition: string;
  /** What it rests on: "for Grade 3". */
  basis: string;
}

type Judged = Pick<DefectRow, 'kind' | 'grade' | 'grade_known' | 'missing'>;

/** What speaks for a disposition, the strongest first; nothing of it is set. */
export function suggestionsFor(row: Judged, proposed: string | null): Suggestion[] {
  const found: Suggestion[] = [];
  if (proposed) found.push({ disposition: proposed, basis: 'proposed when raised' });
  if (!row.grade_known) found.push({ disposition: 'Look again', basis: missingWords(row.missing) });
  for (const { disposition, suggested } of dispositionsFor(row.kind, row.grade))
    if (suggested) found.push({ disposition, basis: gradeBasis(row) });
  return found.filter(
    ({ disposition }, at) => found.findIndex((one) => one.disposition === disposition) === at,
  );
}

/** The other dispositions that this kind may have. */
export function othersFor(row: Judged, suggested: readonly Suggestion[]): string[] {
  return dispositionsFor(row.kind, row.grade)
    .map((one) => one.disposition)
    .filter((disposition) => !suggested.some((one) => one.disposition === disposition));
}

type Graded = Pick<DefectRow, 'grade_words' | 'deciding'> & Partial<Pick<DefectRow, 'overruled'>>;

/** Who overruled the grade, when and why, and what the standard gives; null where nobody did. */
export function overruledWords(row: Graded, last: Pick<Written, 'date' | 'why'> | null) {
  if (!row.overruled) return null;
  const { from_words } = row.overruled;
  const by = ['overruled by the lead', last?.date].filter(Boolean).join(' ');
  const why = (last?.why ?? 'no reason given').replace(/\.$/, '');
  const deciding = row.deciding ? ` (${row.deciding})` : '';
  return `${row.grade_words}, ${by}: ${why} · the standard gives ${from_words}${deciding}`;
}

/** A reason to begin with: the rules that decide the grade, or why they were overruled. */
export function reasonOf(row: Graded, overruled: string | null = null): string {
  if (row.overruled) return overruled ?? '';
  const grade = row.grade_words.replace(' ?', '');
  return row.deciding ? `${grade}: ${row.deciding}` : '';
}

function gradeBasis({ grade, grade_known }: Judged): string {
  return grade_known ? `for Grade ${grade}` : `for Grade at least ${grade}`;
}

function missingWords(missing: readonly string[] | null): string {
  const fields = (missing ?? []).map((field) => field.replaceAll('_', ' '));
  return fields.length > 0 ? `to measure: ${fields.join(', ')}` : 'the grade is not known yet';
}
