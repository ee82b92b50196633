/** Every question of the book that waits for a person, in the order to take them. */

import { byNumber } from '../domain/same_as';
import type { AskedPair } from './pairs';
import type { DefectRow, Standard } from './shop';

export type QuestionKind =
  | 'two values'
  | 'same defect'
  | 'wrong hand'
  | 'which number leads'
  | 'does not count'
  | 'waits'
  | 'grade again';

/** In the order of asking: what the book can't settle first, what only waits last. */
export const QUESTION_KINDS: readonly QuestionKind[] = [
  ...(['two values', 'same defect', 'wrong hand', 'which number leads'] as const),
  ...(['does not count', 'waits', 'grade again'] as const),
];

export const QUESTION_WORDS: Readonly<Record<QuestionKind, string>> = {
  'two values': 'Two values – choose',
  'same defect': 'Same defect?',
  'wrong hand': 'Wrong hand?',
  'which number leads': 'Which number leads?',
  'does not count': 'Does not count',
  waits: 'Waits',
  'grade again': 'Grade again?',
};

export interface Question {
  key: string;
  kind: QuestionKind;
  /** Records it is about; the first is the one it opens. */
  records: string[];
  /** "A/0008 and B/0019". */
  numbers: string;
  grade: number | null;
  reason: string;
  is_later: boolean;
  pair: AskedPair | null;
}

/** The questions open in a book, worst first within each kind; what was put off comes last. */
export function questionsOf(
  rows: readonly DefectRow[],
  pairs: readonly AskedPair[],
  standard: Pick<Standard, 'name' | 'issue'> | null = null,
): Question[] {
  const byRecord = new Map(rows.map((row) => [row.record, row]));
  const newest = standard && `${standard.name} issue ${standard.issue}`;
  const asked = pairs.filter(({ decided }) => decided === null);
  return [
    ...asked.map((pair) => ofPair(pair, byRecord)),
    ...rows.flatMap((row) => ofRow(row, newest)),
  ].sort(inOrder);
}

function inOrder(a: Question, b: Question): number {
  return (
    Number(a.is_later) - Number(b.is_later) ||
    QUESTION_KINDS.indexOf(a.kind) - QUESTION_KINDS.indexOf(b.kind) ||
    (b.grade ?? 9) - (a.grade ?? 9) ||
    byNumbers(a, b)
  );
}

/** Two numbers with their "and" are no number: to try to read them takes long over thousands. */
function byNumbers(a: Question, b: Question): number {
  if (!a.pair || !b.pair) return byNumber(a.numbers, b.numbers);
  if (a.numbers === b.numbers) return 0;
  return a.numbers < b.numbers ? -1 : 1;
}

function ofPair(pair: AskedPair, rows: ReadonlyMap<string, DefectRow>): Question {
  const grades = pair.records.map((record) => rows.get(record)?.grade ?? null);
  return {
    key: [pair.query, ...pair.records].join(' '),
    kind: pair.query,
    records: [...pair.records],
    numbers: pair.numbers.map(named).join(' and '),
    grade: grades.includes(null) ? null : Math.max(...(grades as number[])),
    reason: pair.reason,
    is_later: pair.is_later,
    pair,
  };
}

const DONE = new Set(['Cleared', 'Same as', 'Raised in error']);

/** What is asked of one record; `newest`: the newest issue of the standard, "QS-7 issue 2". */
function ofRow(row: DefectRow, newest: string | null): Question[] {
  const fields = row.two_values.map((field) => field.replaceAll('_', ' '));
  const issue = row.graded_by ?? null;
  const isOld = newest !== null && issue !== null && issue !== newest;
  return [
    ...(fields.length > 0
      ? [ofOne(row, 'two values', `${listed(fields)}: the worse counts until chosen.`)]
      : []),
    ...(row.choose_lead
      ? [ofOne(row, 'which number leads', 'It is the same as another that is itself set aside.')]
      : []),
    ...row.not_counting.map((one) => ofOne(row, 'does not count', one.reason, one.entry)),
    ...row.waits.map((one) => ofOne(row, 'waits', one.reason, one.entry)),
    ...(isOld && !DONE.has(row.state ?? '')
      ? [ofOne(row, 'grade again', `Graded by ${issue}; ${newest} is here.`)]
      : []),
  ];
}

function ofOne(row: DefectRow, kind: QuestionKind, reason: string, entry = ''): Question {
  return {
    ...{ key: `${row.record} ${kind} ${entry}`, kind, records: [row.record] },
    ...{ numbers: named(row.number), grade: row.grade, reason, is_later: false, pair: null },
  };
}

const named = (number: string | null) => number ?? 'a record without a number';

function listed(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
