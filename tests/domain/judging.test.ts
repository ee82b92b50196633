// Verdicts of the shared vectors.

import { describe, expect, it } from 'vitest';
import { judge } from '../../frontend/src/domain/judging';
import { judgeAll } from '../../frontend/src/domain/ledger';
import { actOf, COUNTS, type Known, knownOf, Needs } from '../../frontend/src/domain/verdicts';
import vectors from '../vectors/judging.json';
import { type Book, bookOf, type RowText } from './book';

interface Case {
  name: string;
  after: string[];
  entries: RowText[];
  verdicts: Record<string, string | string[]>;
  reasons?: Record<string, string>;
  withdrawn?: string[];
  reached?: string[];
  refused?: [string, number][];
  grade?: number | null;
  root?: string;
  grade_with?: Record<string, number>;
}

const CASES = vectors.cases as unknown as Case[];
const BLOCKS = vectors.blocks as unknown as Record<string, RowText[]>;

function rowsOf(one: Case): RowText[] {
  const blocks = one.after.flatMap((name) => BLOCKS[name] as RowText[]);
  return [...(vectors.prologue as unknown as RowText[]), ...blocks, ...one.entries];
}

/** The grade a case says, or the one it says of values with a field. */
function gradeOf(one: Case, values: object): number | null {
  const given = Object.entries(one.grade_with ?? {}).find(([field]) => field in values);
  return given ? given[1] : one.grade === undefined ? 4 : one.grade;
}

function knownFor(one: Case, book: Book): Known {
  const reached = new Set((one.reached ?? [...book.ids.keys()]).map((name) => book.ids.get(name)));
  return knownOf({
    reached: (entry) => reached.has(entry.id),
    gradeOf: (values) => gradeOf(one, values),
    root: one.root ? (book.ids.get(one.root) as string) : null,
    refused: (writer, n) => (one.refused ?? []).some(([w, at]) => w === writer && at === n),
  });
}

describe('vectors', () => {
  it.each(CASES.map((one) => [one.name, one] as const))('%s', (_, one) => {
    const book = bookOf(rowsOf(one));
    const judged = judgeAll(book.entries, knownFor(one, book));
    const found = Object.keys(one.verdicts).map((name) => {
      const verdict = judged.verdicts.get(book.ids.get(name) as string);
      return [name, verdict?.code ? [verdict.result, verdict.code] : verdict?.result];
    });
    expect(Object.fromEntries(found)).toEqual(one.verdicts);
    for (const [name, reason] of Object.entries(one.reasons ?? {}))
      expect(judged.verdicts.get(book.ids.get(name) as string)?.reason).toBe(reason);
    const acts = rowsOf(one).map((row) => row.act ?? row.name);
    const withdrawn = acts.filter((act) => judged.withdrawn.has(`tableta1 ${act}`));
    expect(new Set(withdrawn)).toEqual(new Set(one.withdrawn ?? []));
  });

  it('says why of every verdict that does not count', () => {
    for (const one of CASES) {
      const book = bookOf(rowsOf(one));
      for (const verdict of judgeAll(book.entries, knownFor(one, book)).verdicts.values())
        expect(verdict.reason).toMatch(verdict.result === 'counts' ? /^$/ : /\.$/);
    }
  });
});

describe('judge', () => {
  const one = CASES.find(({ name }) => name.startsWith('a defect goes')) as Case;
  const book = bookOf(rowsOf(one));
  const id = (name: string) => book.ids.get(name) as string;
  const entry = (name: string) => book.entries.find((other) => other.id === id(name)) ?? raise;
  const raise = book.entries.find((other) => other.id === id('raise')) as (typeof book.entries)[0];
  const act = book.entries.filter((other) => actOf(other) === actOf(raise));
  const names = ['new', 'kind', 'photo', 'role-inspector-1'];

  it('asks for what it must see and no more', () => {
    expect(judge(raise, act, knownOf())).toEqual(new Needs(names.map(id).sort()));
    const entries = new Map(names.map((name) => [id(name), [entry(name), COUNTS] as const]));
    expect(judge(raise, act, knownOf({ entries }))).toEqual(new Needs([], ['inspector-1']));
    const people = new Map([['inspector-1', [[entry('role-inspector-1'), COUNTS] as const]]]);
    expect(judge(raise, act, knownOf({ entries, people }))).toEqual(COUNTS);
  });

  it('waits for an entry that is not yet here, by its id', () => {
    const entries = new Map([
      ...raise.relies.map((other) => [other, [entry('photo'), COUNTS] as const] as const),
      ...['new', 'kind'].map((name) => [id(name), null] as const),
    ]);
    const verdict = judge(raise, act, knownOf({ entries }));
    expect(verdict).toMatchObject({ result: 'waits', waits_for: [id('new'), id('kind')] });
  });
});
