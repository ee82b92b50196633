/** Who may set which field and make which move: readings of the two tables. */

import table from '@tables/moves.json';
import { fieldOf } from './fields';

export interface Row {
  move: string;
  from: string | readonly string[];
  to: string;
  who: readonly string[];
  needs: readonly string[];
  sets_by_itself?: Readonly<Record<string, string>>;
}

export const MOVES = table as readonly Row[];
export const STATES = [
  'Draft',
  'Raised',
  'Assessed',
  'In work',
  'Offered',
  'Cleared',
  'Deferred',
  'Same as',
  'Raised in error',
] as const;

/** Whether a role may set a field; anybody may set a field unknown here. */
export function maySet(role: string, kind: string, field: string): boolean {
  const row = fieldOf(kind, field);
  return row === undefined || row.set_by === 'any' || row.set_by.includes(role);
}

/** Whether a role may make a move from some state. */
export function mayMove(role: string, move: string): boolean {
  return MOVES.some((row) => row.move === move && row.who.includes(role));
}

/** The rows of a move that lead from the states an author has seen. */
export function rowsFrom(move: string, states: Iterable<string>): Row[] {
  const seen = [...states];
  return MOVES.filter((row) => row.move === move && leadsFrom(row, seen));
}

/** Whether a row leads from these states: none, one, or several that differ. */
export function leadsFrom(row: Row, states: Iterable<string>): boolean {
  const seen = [...new Set(states)];
  if (row.from === 'any') return seen.length === 1;
  if (row.from === 'two or more') return seen.length > 1;
  if (row.from.length === 0) return seen.length === 0;
  return seen.length === 1 && row.from.includes(seen[0] as string);
}

/** The moves a role may make from the standing states, in the table's order.

Undo is left out: it hangs on the person and on the start of the app, not on the role. */
export function movesOpen(role: string, states: Iterable<string>): string[] {
  const seen = [...states];
  const rows = MOVES.filter((row) => row.who.includes(role) && leadsFrom(row, seen));
  return [...new Set(rows.map((row) => row.move))].filter((move) => move !== 'undo');
}
