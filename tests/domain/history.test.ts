// Histories as sentences.

import type { Entry } from '@sync/entry';
import { expect, it } from 'vitest';
import { history, valueWords } from '../../frontend/src/domain/history';
import { judgeAll } from '../../frontend/src/domain/ledger';
import { knownOf, type Pair } from '../../frontend/src/domain/verdicts';
import vectors from '../vectors/history.json';
import base from '../vectors/judging.json';
import { type Book, bookOf, type RowText } from './book';

interface Case {
  name: string;
  after: string[];
  entries: RowText[];
  only?: string[];
  lines: [name: string, sentence: string, counts?: false][];
  parts?: Record<string, [words: string, struck: boolean][]>;
}

const CASES = vectors.cases as unknown as Case[];
const BLOCKS = base.blocks as unknown as Record<string, RowText[]>;
const PROLOGUE = base.prologue as unknown as RowText[];

function bookIn(one: Case): Book {
  const blocks = one.after.flatMap((name) => BLOCKS[name] as RowText[]);
  return bookOf([...PROLOGUE, ...blocks, ...one.entries]);
}

function linesOf({ entries, ids }: Book, moment?: (entry: Entry) => [string, string]) {
  const { verdicts, withdrawn } = judgeAll(entries, knownOf({ reached: () => true }));
  const setUp = new Set(PROLOGUE.map((row) => ids.get(row.name)));
  const pairs = entries
    .filter(({ id }) => !setUp.has(id))
    .map((entry): Pair => [entry, verdicts.get(entry.id) as Pair[1]]);
  return history(pairs.reverse(), vectors.names, moment, withdrawn);
}

it.each(CASES.map((one) => [one.name, one] as const))('%s', (_, one) => {
  const book = bookIn(one);
  const shown = one.only?.map((name) => book.ids.get(name)) ?? [...book.ids.values()];
  const found = linesOf(book).filter(({ entry }) => shown.includes(entry));
  expect(found.map(({ entry, sentence, counts }) => [entry, sentence, counts])).toEqual(
    one.lines.map(([name, sentence, counts = true]) => [book.ids.get(name), sentence, counts]),
  );
  if (!one.parts) return;
  const told = found.flatMap(({ entry, parts }) => (parts ? [[entry, parts]] : []));
  const wanted = Object.entries(one.parts).map(([name, parts]) => [book.ids.get(name), parts]);
  expect(Object.fromEntries(told)).toEqual(Object.fromEntries(wanted));
});

it('gives the days and times of the workshop', () => {
  const book = bookIn(CASES[0] as Case);
  const told = linesOf(book, ({ record }) => [`day of ${record}`, `time of ${record}`]);
  expect(told[1]).toMatchObject({ date: 'day of P', time: 'time of P' });
  expect(linesOf(book)[0]).toMatchObject({ date: '2025-03-08', time: '02:13' });
});

it('a part on a bench is told as its place reads', () => {
  const off = { off: 'Bench 2', part: 'Strut, port', marking: 'P', precision: 'bay only' };
  const told = valueWords('defect', 'place', off, {});
  expect(told).toBe('off aircraft, Bench 2 · Strut, port · marked P');
});
