// Rows of defects, from acts to what lists and reports show.

import { type Standing, standing } from '@sync/standing';
import { describe, expect, it } from 'vitest';
import { countedFields } from '../../frontend/src/domain/fields';
import type { Standard } from '../../frontend/src/domain/grading';
import { judgeAll } from '../../frontend/src/domain/ledger';
import type { Definition } from '../../frontend/src/domain/place';
import { type DefectRow, defectRow } from '../../frontend/src/domain/projection';
import { relatedOf } from '../../frontend/src/domain/projection_related';
import type { Others } from '../../frontend/src/domain/same_as';
import { overtakenWords, shortWords } from '../../frontend/src/domain/stamp_words';
import { actOf, knownOf, type Pair } from '../../frontend/src/domain/verdicts';
import definition from '../../sample_data/skinpin_demo/data/definition_2603.json';
import standard from '../../sample_data/skinpin_demo/data/standard_qs7.json';
import base from '../vectors/judging.json';
import vectors from '../vectors/projection.json';
import { type Book, bookOf, type RowText } from './book';

interface Case {
  name: string;
  after: string[];
  entries: RowText[];
  row: Record<string, unknown>;
  said?: string;
  short?: string[];
  grade?: number;
  others?: Others;
  documents?: boolean;
  /** Members of the hull that a later issue of the definition has no more. */
  gone?: string[];
}

const CASES = vectors.cases as unknown as Case[];
const BLOCKS = base.blocks as unknown as Record<string, RowText[]>;
const PROLOGUE = base.prologue as unknown as RowText[];
const NOTHING: Standing = { values: {}, awaited: [], faults: [] };

function bookIn(one: Case): Book {
  const blocks = one.after.flatMap((name) => BLOCKS[name] as RowText[]);
  return bookOf([...PROLOGUE, ...blocks, ...one.entries]);
}

function rowOf(one: Case, { entries }: Book): DefectRow {
  const known = knownOf({ reached: () => true, gradeOf: () => one.grade ?? 4 });
  const { verdicts, withdrawn } = judgeAll(entries, known);
  const pairs = entries.map((entry): Pair => [entry, verdicts.get(entry.id) as Pair[1]]);
  const counts = new Map(
    pairs.map(([entry, { result }]) => {
      return [entry.id, countedFields(entry, result === 'counts', withdrawn.has(actOf(entry)))];
    }),
  );
  const standingOf = (kind: string) => {
    const records = new Set(entries.filter((entry) => entry.kind === kind).map((e) => e.record));
    const stands = [...records].map((record) => {
      const mine = entries.filter((entry) => entry.record === record);
      return [record, standing(mine, ({ id }) => counts.get(id) ?? false)] as const;
    });
    return stands.filter(([, { values }]) => Object.keys(values).length > 0);
  };
  const values = (kind: string) =>
    Object.fromEntries(standingOf(kind).map(([record, now]) => [record, now.values]));
  const related = relatedOf({
    entries: pairs.filter(([entry]) => entry.record === 'X'),
    stamps: pairs.filter(([entry]) => entry.kind === 'stamp'),
    withdrawn,
    photographs: values('photograph'),
    marks: values('mark'),
    scales: values('scale'),
    measurements: values('measurement'),
    lines: values('rivet_line'),
    others: one.others ?? {},
  });
  const now = new Map(standingOf('defect')).get('X') ?? NOTHING;
  const [places, limits] =
    one.documents === false
      ? [null, null]
      : [laterIssue(one.gone ?? []), standard as unknown as Standard];
  return defectRow('X', now, related, places, limits);
}

/** The demo's definition without some members of its hull. */
function laterIssue(gone: string[]): Definition {
  const [hull, ...others] = (definition as unknown as Definition).structures;
  const members = hull?.members.filter(({ name }) => !gone.includes(name)) ?? [];
  expect(members.length).toBe((hull?.members.length ?? 0) - gone.length);
  return { ...definition, structures: [{ ...hull, members }, ...others] } as unknown as Definition;
}

/** Puts ids for '@name'. */
function named(value: unknown, ids: ReadonlyMap<string, string>): unknown {
  if (Array.isArray(value)) return value.map((one) => named(one, ids));
  if (typeof value === 'string' && value.startsWith('@')) return ids.get(value.slice(1));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, named(one, ids)]));
}

describe('vectors', () => {
  it.each(CASES.map((one) => [one.name, one] as const))('%s', (_, one) => {
    const book = bookIn(one);
    const row = rowOf(one, book) as unknown as Record<string, unknown>;
    const found = Object.keys(one.row).map((key) => [key, row[key]]);
    expect(Object.fromEntries(found)).toEqual(named(one.row, book.ids));
  });
});

describe('what is said of stamps', () => {
  it.each(CASES.filter(({ said }) => said !== undefined).map((one) => [one.name, one] as const))(
    '%s',
    (_, one) => {
      const row = rowOf(one, bookIn(one));
      expect(overtakenWords(row)).toBe(one.said);
      expect(row.stamps.map(shortWords)).toEqual(one.short);
    },
  );
});

it('makes every row of the same keys and plain JSON', () => {
  const rows = CASES.map((one) => rowOf(one, bookIn(one)));
  for (const row of rows) {
    expect(Object.keys(row).sort()).toEqual(Object.keys(rows[0] as DefectRow).sort());
    expect(JSON.parse(JSON.stringify(row))).toEqual(row);
  }
});

it('has a row for a record of which nothing is known', () => {
  const row = defectRow('X', NOTHING, relatedOf(), null, null);
  expect(row).toMatchObject({ state: null, number: null, grade_words: 'Not graded ?' });
});
