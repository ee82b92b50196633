/** A standard of acceptance made ready: its rows as functions, sorted by kind and material. */

import { Refused } from './errors';
import { type Condition, condition, type Judge } from './grading_conditions';
import { type Figure, figureNamed, SHEETED } from './grading_figures';
import { KINDS, MATERIALS, NOT_KNOWN, rowOf } from './kinds';

export interface Basis {
  text: string;
  source: string;
  marker: string;
}

export interface StandardRow {
  rule: string;
  family?: string;
  material: string[] | 'any';
  kinds: string[] | 'any';
  when: Condition;
  needs: string[];
  uses: string[];
  gives_way_to?: string[];
  grade: number;
  text: string;
  basis: Basis;
}

export interface Standard {
  name: string;
  issue: string;
  title?: string;
  note?: string;
  rows: StandardRow[];
}

/**
 * A row of the standard, ready to judge. `strict` asks for measured figures that the row merely
 * uses: it is asked while the grade is light, because a figure that was not measured must not
 * read as light.
 */
export interface Row {
  rule: string;
  grade: number;
  basis: Basis;
  judge: Judge;
  strict: Judge | null;
  needs: readonly string[];
  /** Fields that the row looks at, needed or not. */
  reads: readonly string[];
  /** The row counts a depth only as taken after cleaning. */
  asks_cleaned: boolean;
  family: string | undefined;
  gives_way_to: readonly string[];
  by_depth: boolean;
}

/** The rows that may fire for one kind and material, and the figures they read. */
export interface Sheet {
  rows: readonly Row[];
  unlit: readonly Row[];
  figures: readonly [string, Figure][];
  excluding: boolean;
  hand_off: boolean;
  asks_cleaned: boolean;
}

/** The names of all figures that a condition asks for. */
export function figuresIn(when: Condition): string[] {
  const { figure, percent, count, share = [], ratio = [], any = [], all = [] } = when;
  const single = [figure, percent, count].filter((name) => name !== undefined);
  return [...new Set([...single, ...share, ...ratio, ...[...any, ...all].flatMap(figuresIn)])];
}

/** A standard with its sheets, made as they are asked for. */
export class Compiled {
  readonly name: string;
  /** Fields that any row reads. */
  readonly inputs: readonly string[];
  private readonly rows: readonly [StandardRow, Row][];
  private readonly kinds: ReadonlySet<string>;
  private readonly sheets = new Map<string, Sheet>();

  constructor(standard: Standard) {
    this.name = `${standard.name} issue ${standard.issue}`;
    this.rows = standard.rows.map((row) => [row, compiledRow(row)]);
    const kindsNamed = standard.rows.flatMap((row) => (row.kinds === 'any' ? [] : row.kinds));
    this.kinds = new Set([...Object.keys(KINDS), ...kindsNamed]);
    const figures = standard.rows.flatMap((row) => figuresIn(row.when));
    const fields = figures.flatMap((name) => figureNamed(name).fields);
    const named = standard.rows.flatMap((row) => [...row.needs, ...row.uses]);
    this.inputs = [...new Set(['kind', 'material', 'cleaned', ...named, ...fields])].sort();
  }

  /** The sheet of a kind and material. */
  sheet(kind: unknown, material: unknown): Sheet {
    // Kinds and materials unknown here share a sheet, so that sheets stay few.
    const ofKind = typeof kind === 'string' && this.kinds.has(kind) ? kind : '';
    const known = typeof material === 'string' && rowOf(MATERIALS, material) !== undefined;
    const ofMaterial = known ? material : NOT_KNOWN;
    const key = `${ofMaterial}/${ofKind}`;
    let sheet = this.sheets.get(key);
    if (!sheet) {
      sheet = this.newSheet(ofKind, ofMaterial);
      this.sheets.set(key, sheet);
    }
    return sheet;
  }

  private newSheet(kind: string, material: string): Sheet {
    const chosen = this.rows.filter(([row]) => row.kinds === 'any' || row.kinds.includes(kind));
    const rows = chosen
      .filter(([row]) => row.material === 'any' || row.material.includes(material))
      .map(([, ready]) => ready);
    const unlit = chosen
      .filter(([row]) => row.material !== 'any' && material === NOT_KNOWN)
      .map(([, ready]) => ({ ...ready, needs: ['material'] }));
    const names = new Set(chosen.flatMap(([row]) => figuresIn(row.when)));
    const about = rowOf(KINDS, kind);
    return {
      rows,
      unlit,
      figures: [...names].sort().map((name) => [name, figureNamed(name)]),
      excluding: rows.some((row) => row.family !== undefined || row.gives_way_to.length > 0),
      hand_off: about?.hand_off ?? false,
      asks_cleaned: about?.fields.includes('cleaned') ?? false,
    };
  }
}

function compiledRow(row: StandardRow): Row {
  const figures = figuresIn(row.when).map(figureNamed);
  const measured = figures.filter((figure) => figure.measured).flatMap((figure) => figure.needs);
  const used = row.uses.filter((field) => measured.includes(field));
  const read = figuresIn(row.when)
    .sort()
    .flatMap((name) => figureNamed(name).fields);
  const reads = new Set([...row.needs, ...row.uses, ...read]);
  return {
    rule: row.rule,
    grade: row.grade,
    basis: row.basis,
    judge: condition(row.when, row.needs),
    strict: used.length > 0 ? condition(row.when, [...row.needs, ...used]) : null,
    needs: [...row.needs, ...used],
    reads: [...reads].filter((field) => !SHEETED.includes(field)),
    asks_cleaned: measured.includes('depth') && row.needs.includes('cleaned'),
    family: row.family,
    gives_way_to: row.gives_way_to ?? [],
    by_depth: measured.includes('depth'),
  };
}

const kept = new WeakMap<Standard, Compiled>();

/** A standard made ready; an issued standard never changes, so each is made ready once. */
export function compileStandard(standard: Standard | Compiled): Compiled {
  if (standard instanceof Compiled) return standard;
  let compiled = kept.get(standard);
  if (!compiled) {
    compiled = compiledOrRefused(standard);
    kept.set(standard, compiled);
  }
  return compiled;
}

function compiledOrRefused(standard: Standard): Compiled {
  try {
    return new Compiled(standard);
  } catch (error) {
    if (error instanceof Refused) throw error;
    const message = `The standard can't be read: ${error} in one of its rows.`;
    const refused = new Refused('not_a_standard', message, 'Compare it with an issued standard.');
    refused.cause = error;
    throw refused;
  }
}
