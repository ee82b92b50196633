/** A grading in words: the grade, its deciding reasons, and what is still open. */

import type { Fired, Grading } from './grading';
import { ASKED, GRADES, HIGHEST, rowOf } from './kinds';

const FIGURE_TYPES = ['quantity', 'percent', 'whole'];
const LABELS: Record<string, string> = { kind: 'Kind', material: 'Material' };

/**
 * "Grade 2", "Grade at least 2 ?" or "Not graded ?". Nothing is "at least 0", and nothing is above
 * grade 4.
 */
export function gradeWords(grading: Grading): string {
  if (grading.known || grading.grade === HIGHEST) return `Grade ${grading.grade}`;
  return grading.grade ? `Grade at least ${grading.grade} ?` : 'Not graded ?';
}

/** The word of a grade: "severe". */
export function gradeName(grade: number): string {
  return GRADES[grade]?.word ?? String(grade);
}

/** The reasons that set the grade. */
export function deciding(grading: Grading): Fired[] {
  return grading.fired.filter((fired) => fired.deciding);
}

/** The deciding reasons on one line: "AL3: depth 0.011 in > 0.010 in; AL4: …". */
export function decidingWords(grading: Grading): string {
  return deciding(grading)
    .map((fired) => `${fired.rule}: ${fired.reason}`)
    .join('; ');
}

/**
 * What keeps the grade open, or nothing where it is known:
 * "Depth not measured: AL1–AL5 cannot be judged. Could be 3 or 4."
 */
export function openWords(grading: Grading): string {
  if (grading.known) return '';
  if (grading.must_choose) return 'Too many values stand side by side: choose among them first.';
  if (grading.missing.length === 1 && grading.missing[0] === 'kind') return 'Kind not given.';
  if (grading.could_be.length === 0) return 'No row of the standard gives this a grade: refer it.';
  const lacks = grading.missing.map((field) => lacking(field, grading)).join('; ');
  const could = either(grading.could_be.map(String));
  return `${lacks}: ${ranges(grading.unjudged)} cannot be judged. Could be ${could}.`;
}

function lacking(field: string, grading: Grading): string {
  const row = rowOf(ASKED, field);
  const label = LABELS[field] ?? row?.label.split(',')[0] ?? field;
  if (grading.unreadable.includes(field)) return `${label} cannot be read`;
  if (grading.doubted.includes(field)) return `${label} reaches a limit within its ±`;
  if (field === 'cleaned' && grading.cleaned_unsaid) return `${label} not given`;
  if (field === 'cleaned' && grading.partly_cleaned) return 'Depth taken when only partly cleaned';
  if (field === 'cleaned') return 'Depth taken before cleaning';
  return `${label} ${FIGURE_TYPES.includes(row?.type ?? '') ? 'not measured' : 'not given'}`;
}

function either(words: string[]): string {
  return words.length > 1 ? `${words.slice(0, -1).join(', ')} or ${words.at(-1)}` : words.join('');
}

/** Joins rules that follow each other: AL1–AL5. */
function ranges(rules: string[]): string {
  const runs: string[][] = [];
  for (const rule of rules) {
    const run = runs.at(-1);
    if (run && follows(run.at(-1) as string, rule)) run.push(rule);
    else runs.push([rule]);
  }
  return runs
    .map((run) => (run.length > 2 ? `${run[0]}–${run.at(-1)}` : run.join(', ')))
    .join(', ');
}

function follows(before: string, rule: string): boolean {
  const [first, second] = [before, rule].map((name) => /^([A-Z]+)([0-9]+)$/.exec(name));
  return (
    first != null &&
    second != null &&
    first[1] === second[1] &&
    Number(second[2]) === Number(first[2]) + 1
  );
}
