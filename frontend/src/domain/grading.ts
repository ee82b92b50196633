/** Grades with reasons: the highest grade of all rows of the standard that fire. */

import { Refused } from './errors';
import {
  COPIED,
  lacks,
  readFigure,
  shown,
  unreadable,
  type Values,
  withoutCopied,
} from './grading_figures';
import {
  type Basis,
  Compiled,
  compileStandard,
  type Row,
  type Sheet,
  type Standard,
} from './grading_standard';
import { GRADES, isLoss } from './kinds';

export { type Basis, Compiled, compileStandard, type Standard, type Values };

/** A depth taken through product can only be less than the true one; unsaid is no answer. */
const CLEAN: readonly unknown[] = [undefined, null, 'yes'];
const LIGHT = 1;

/** One reason of one row: a row may fire for two reasons. */
export interface Fired {
  rule: string;
  grade: number;
  reason: string;
  basis: Basis;
  deciding: boolean;
}

/** A grade with its reasons, deciding ones first, and what keeps it from being known. */
export interface Grading {
  /** 0 to 4, or null where no row fires. */
  grade: number | null;
  /** false: the grade is *at least* this, or not graded at all. */
  known: boolean;
  fired: Fired[];
  /** Fields that could raise the grade. */
  missing: string[];
  /** Higher grades that are still open. */
  could_be: number[];
  /** Rules that a missing field keeps from being judged. */
  unjudged: string[];
  /** A matter for a licensed or qualified person. */
  hand_off: boolean;
  /** Too many values stand side by side to try them all. */
  must_choose: boolean;
  /** The depth was taken when only partly cleaned, and not through all of the product. */
  partly_cleaned: boolean;
  /** A row asks whether it was cleaned before the depth was taken, and nobody said. */
  cleaned_unsaid: boolean;
  /** Those of the missing fields that hold something that can't be read. */
  unreadable: string[];
  /** Those of the missing fields that are measured, and reach a limit within their ±. */
  doubted: string[];
}

interface Found {
  row: Row;
  reasons: readonly string[];
}

/**
 * Grades the values of one record; what can't be read keeps open the rows that read it. A figure
 * that was copied from another record keeps them open too: nobody measured it.
 */
export function grade(given: Values, standard: Standard | Compiled): Grading {
  const values = withoutCopied(given);
  const compiled = standard instanceof Compiled ? standard : compileStandard(standard);
  const sheet = compiled.sheet(values.kind, values.material);
  const figures: Record<string, bigint | null> = {};
  for (const [name, figure] of sheet.figures) figures[name] = figure.read(values);
  let found: Found[] = [];
  const unfired: Row[] = [];
  const open: Row[] = [];
  for (const row of sheet.rows) {
    const reasons = row.judge(values, figures);
    if (reasons) found.push({ row, reasons });
    else (reasons === null ? open : unfired).push(row);
  }
  if (sheet.excluding && found.length > 1) found = withoutExcluded(found);
  let highest: number | null = null;
  for (const { row } of found) if (highest === null || row.grade > highest) highest = row.grade;
  if (highest === null || highest <= LIGHT) {
    for (const row of unfired) if (row.strict?.(values, figures) === null) open.push(row);
  }
  const has_depth = figures.depth != null;
  const unclean = has_depth && sheet.asks_cleaned && !CLEAN.includes(values.cleaned);
  const unsaid = has_depth && values.cleaned == null;
  for (const row of unfired) {
    const is_doubtful = (unclean && row.by_depth) || (unsaid && row.asks_cleaned);
    if (is_doubtful && row.grade > (highest ?? 0)) open.push(row);
  }
  open.push(...sheet.unlit);
  return grading(values, sheet, found, highest, open, unclean);
}

/** Leaves one row of each family, the highest, and none that gives way to another. */
function withoutExcluded(found: Found[]): Found[] {
  const best = new Map<string, Row>();
  for (const { row } of found) {
    if (row.family === undefined) continue;
    const other = best.get(row.family);
    if (!other || row.grade > other.grade) best.set(row.family, row);
  }
  return found.filter(
    ({ row }) =>
      (row.family === undefined || best.get(row.family) === row) &&
      !row.gives_way_to.some((rule) => found.some((other) => other.row.rule === rule)),
  );
}

function grading(
  values: Values,
  sheet: Sheet,
  found: Found[],
  highest: number | null,
  open: Row[],
  unclean: boolean,
): Grading {
  const deciding: Fired[] = [];
  const others: Fired[] = [];
  for (const { row, reasons } of found) {
    const decides = row.grade === highest;
    for (const reason of reasons) {
      const { rule, grade, basis } = row;
      (decides ? deciding : others).push({ rule, grade, reason, basis, deciding: decides });
    }
  }
  const raising = open.filter((row) => highest === null || row.grade > highest);
  const missing = missingOf(values, raising, unclean);
  if (open.length === 0 && typeof values.kind !== 'string') missing.push('kind');
  return {
    grade: highest,
    known: highest !== null && raising.length === 0,
    fired: others.length > 0 ? deciding.concat(others) : deciding,
    missing,
    could_be: [...new Set(raising.map((row) => row.grade))].sort(),
    unjudged: raising.length > 0 ? rulesInOrder(sheet, open) : [],
    hand_off: sheet.hand_off || (highest !== null && GRADES[highest]?.hand_off === true),
    must_choose: false,
    partly_cleaned: unclean && values.cleaned === 'partly',
    cleaned_unsaid: missing.includes('cleaned') && values.cleaned == null,
    unreadable: missing.filter((field) => unreadable(values, field) && values[field] !== COPIED),
    doubted: [],
  };
}

function rulesInOrder(sheet: Sheet, open: Row[]): string[] {
  const rules = new Set(open.map((row) => row.rule));
  const inOrder = [...sheet.rows, ...sheet.unlit].map((row) => row.rule);
  return [...new Set(inOrder.filter((rule) => rules.has(rule)))];
}

function missingOf(values: Values, rows: Row[], unclean: boolean): string[] {
  if (rows.length === 0) return [];
  const lacking = rows.flatMap((row) => [
    ...row.needs.filter((field) => isOpen(values, field)),
    ...row.reads.filter((field) => unreadable(values, field)),
  ]);
  if (unclean && rows.some((row) => row.by_depth)) lacking.push('cleaned');
  return [...new Set(lacking)];
}

function isOpen(values: Values, field: string): boolean {
  // A material that is given but unknown here is as good as none.
  return field === 'material' || lacks(values, field);
}

/**
 * Refuses figures that can't be true together, while they are being typed. A record that holds
 * such figures all the same, from two tablets, is graded on the worse.
 */
export function refuseFigures(given: Values): void {
  const values = withoutCopied(given);
  const [depth, thickness] = [readFigure('depth', values), readFigure('thickness', values)];
  const kind = typeof values.kind === 'string' ? values.kind : null;
  if (isLoss(kind) && depth !== null && thickness !== null && depth > thickness) {
    const [deep, thick] = [shown(values.depth), shown(values.thickness)];
    throw new Refused(
      'deeper_than_thick',
      `${deep} is deeper than the plate is thick, ${thick}: enter it as perforated.`,
      'Set Perforated, and the depth to the thickness or to not measured.',
    );
  }
  const [major, minor] = [readFigure('hole_major', values), readFigure('hole_minor', values)];
  if (major !== null && minor !== null && major < minor) {
    const [larger, smaller] = [shown(values.hole_major), shown(values.hole_minor)];
    throw new Refused(
      'hole_turned_about',
      `The larger diameter, ${larger}, is less than the smaller, ${smaller}.`,
      'Change the two about.',
    );
  }
}
