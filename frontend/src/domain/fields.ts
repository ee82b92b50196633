/** The fields of every kind of record, and which entries are judged. */

import type { Entry } from '@sync/entry';
import { type Counted, countsFor } from '@sync/standing';
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

const ANYBODY = ROLES.length + 1;

/** How many roles may write the field of a kind that the most may write. */
const RANK: Readonly<Record<string, number>> = Object.fromEntries(
  Object.entries(FIELDS).map(([kind, fields]) => {
    const ways = Object.values(fields).map(({ set_by }) => set_by);
    const writers = ways.map((way) => (way === 'any' ? ANYBODY : way.length));
    return [kind, Math.max(...writers)] as const;
  }),
);

/** The kind of a record; entries of it that bear another count for nothing.

Of several kinds, which is a mistake or worse, the one that the fewest roles may write: or a capture
of another kind could take a record away, or set what its author may not decide. Of those, one with
a decision that counts goes before mere captures, then the first by id. */
export function recordKind(counted: Iterable<readonly [Entry, Counted]>): string {
  const pairs = [...counted];
  const said = pairs.filter(([entry, counts]) => says(entry, counts));
  const claims = (said.length > 0 ? said : pairs).map(claim);
  return claims.reduce((best, one) => (isBefore(one, best) ? one : best))[3];
}

/** How well an entry claims its record for its kind; the least wins. */
function claim([entry, counts]: readonly [Entry, Counted]): readonly [
  number,
  number,
  string,
  string,
] {
  const { kind, id, set } = entry;
  const is_decided = Object.keys(set).some(
    (field) => !isCaptureField(kind, field) && countsFor(counts, field),
  );
  return [own(RANK, kind) ?? ANYBODY + 1, is_decided ? 0 : 1, id, kind];
}

function isBefore(one: readonly (number | string)[], other: readonly (number | string)[]): boolean {
  const at = one.findIndex((part, place) => part !== other[place]);
  return at >= 0 && (one[at] as number | string) < (other[at] as number | string);
}

/** Whether an entry counts for a field that its kind has. */
function says(entry: Entry, counts: Counted): boolean {
  return Object.keys(entry.set).some(
    (field) => fieldOf(entry.kind, field) !== undefined && countsFor(counts, field),
  );
}
