/** The grade in the row of a defect, as worked out or as overruled. */

import type { Compiled, Grading, Standard } from './grading';
import { gradeWithLines } from './grading_line';
import { decidingWords, gradeWords } from './grading_words';
import { HIGHEST, isGrade } from './kinds';
import { standingOf, type Values } from './values';
import { isFields } from './verdicts';

export interface NotCounting {
  entry: string;
  code: string;
  reason: string;
  /** Of a figure that fell: what it rests on. */
  measurement?: string;
}

const NOT_GRADED: Grading = {
  grade: null,
  known: false,
  fired: [],
  missing: [],
  could_be: [],
  unjudged: [],
  hand_off: false,
  must_choose: false,
  partly_cleaned: false,
  cleaned_unsaid: false,
  unreadable: [],
  doubted: [],
};

/** The grade with its reasons, and what it was before it was overruled; `lines` are the rivet lines
that name the defect. */
export function gradeKeys(
  values: Values,
  lines: Readonly<Record<string, Values>>,
  standard: Standard | Compiled | null,
) {
  const grading = standard === null ? NOT_GRADED : gradeWithLines(values, lines, standard);
  const row = {
    grade: grading.grade,
    grade_known: grading.known,
    grade_words: gradeWords(grading),
    deciding: decidingWords(grading),
    fired: [...grading.fired],
    missing: [...grading.missing],
    overruled: null,
  };
  const given = standingOf(values, 'overrule').filter(isFields);
  const grades = given.map((one) => one.grade).filter(isGrade);
  if (grades.length === 0) return row;
  const to = Math.max(...grades);
  const overruled = { from: grading.grade, from_words: row.grade_words, to };
  return { ...row, grade: to, grade_known: true, grade_words: `Grade ${to}`, overruled };
}

/** What stands as an overruled grade and is none: it is ignored, and that is said. */
export function noGrades(values: Values): NotCounting[] {
  const ids = Object.keys(values).sort();
  const given = ids.filter((id) => Object.hasOwn(values[id] ?? {}, 'overrule'));
  const ignored = given.filter((id) => {
    const one = values[id]?.overrule;
    return one !== null && !(isFields(one) && isGrade(one.grade));
  });
  const reason = `The grade it gives is none of 0 to ${HIGHEST} in whole figures, and is ignored.`;
  return ignored.map((entry) => ({ entry, code: 'no grade', reason }));
}
