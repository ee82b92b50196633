/** The fields of every kind of record, and which entries are judged. */

import type { Entry } from '@sync/entry';
import table from '@tables/fields.json';

export interface Field {
  type: string;
  set_by: 'any' | readonly string[];
  capture: boolean;
  stamped: string | null;
  label: string;
  grading?: boolean;
}

export const FIELDS = table as Readonly<Record<string, Readonly<Record<string, Field>>>>;
export const ROLES = [
  'inspector',
  'lead',
  'clerk',
  'fitter',
  'bench_fitter',
  'design_authority',
] as const;

const own = <T>(table: Readonly<Record<string, T>> | undefined, name: string): T | undefined =>
  table && Object.hasOwn(table, name) ? table[name] : undefined;

/** The row of a field; nothing where this version knows no such field. */
export function fieldOf(kind: string, field: string): Field | undefined {
  return own(own(FIELDS, kind), field);
}

export const GRADING_FIELDS: readonly string[] = Object.keys(FIELDS.defect ?? {}).filter(
  (name) => fieldOf('defect', name)?.grading === true,
);

/** Whether a field counts as it comes; a field unknown here does. */
export function isCaptureField(kind: string, field: string): boolean {
  return fieldOf(kind, field)?.capture !== false;
}

/** The fields of a kind that stamps are made over. */
export function stampedFields(kind: string): ReadonlySet<string> {
  const names = Object.keys(own(FIELDS, kind) ?? {});
  return new Set(names.filter((name) => fieldOf(kind, name)?.stamped));
}

/** Whether an entry changes the state of a defect. */
export function isMove(entry: Entry): boolean {
  return entry.kind === 'defect' && Object.hasOwn(entry.set, 'state');
}

/** Whether an entry is a move, a stamp or a decision, and no mere capture. */
export function isJudged(entry: Entry): boolean {
  return Object.keys(entry.set).some((field) => !isCaptureField(entry.kind, field));
}

/** What of an entry goes into standing values: all, nothing, or its captured fields.

What was seen stands even when the move written with it does not count; what was undone does not. */
export function countedFields(
  entry: Entry,
  counts: boolean,
  withdrawn: boolean,
): boolean | ReadonlySet<string> {
  if (withdrawn) return false;
  if (counts) return true;
  return new Set(Object.keys(entry.set).filter((field) => isCaptureField(entry.kind, field)));
}
