/** What was done on one browser, act by act, less what was taken back: worked out from entries. */

import type { Entry } from '@sync/entry';
import { TAKEN_BACK } from '../domain/change_reasons';
import { actOf, stateOf, writerOf } from '../domain/verdicts';

export { TAKEN_BACK };

/** One act that can be taken back. */
export interface Step {
  act: string;
  person: string;
  writer: string;
  entries: Entry[];
  /** Records it is undone with: the defect of a photograph or of a mark on it. */
  under: string[];
}

/** Kinds that a person records by hand; stamps, roles and the like are not taken back. */
const KINDS = new Set([
  ...['defect', 'photograph', 'mark', 'scale', 'measurement'],
  ...['coverage', 'survey', 'pair', 'rivet_line'],
]);

/** The record that a photograph or mark belongs to. */
export type OwnerOf = (record: string) => string | undefined;

/** Steps still standing, oldest first, of entries in the order of their ids. */
export function stepsOf(entries: readonly Entry[], owner: OwnerOf): Step[] {
  const acts = new Map<string, Entry[]>();
  for (const entry of entries) {
    const act = actOf(entry);
    acts.set(act, [...(acts.get(act) ?? []), entry]);
  }
  const steps: Step[] = [];
  for (const act of acts.values()) take(steps, act, owner);
  return steps;
}

/** Adds an act to the steps, or takes off the one that it takes back. */
export function take(steps: Step[], act: readonly Entry[], ownerOf: OwnerOf): void {
  const undone = undoneBy(steps, act);
  if (undone !== null) {
    if (undone >= 0) steps.splice(undone, 1);
    return;
  }
  const [first] = act;
  if (!first || !act.every((entry) => KINDS.has(entry.kind) || hasMove(act))) return;
  steps.push({
    act: actOf(first),
    person: first.by,
    writer: writerOf(first),
    entries: [...act],
    under: [...new Set(act.map((entry) => rootOf(entry.record, ownerOf)))],
  });
}

/** Whether an act moves the state of a defect. */
export function hasMove(act: readonly Entry[]): boolean {
  return act.some((entry) => entry.kind === 'defect' && stateOf(entry).move !== undefined);
}

/** Where the step lies that an act takes back: −1 for one that is not here; null: it takes none. */
function undoneBy(steps: readonly Step[], act: readonly Entry[]): number | null {
  const move = act.find((entry) => stateOf(entry).move === 'undo');
  if (move) {
    const { undoes } = stateOf(move);
    return steps.findIndex((step) => step.entries.some((entry) => entry.id === undoes));
  }
  if (!act.every((entry) => entry.why === TAKEN_BACK)) return null;
  const records = new Set(act.map((entry) => entry.record));
  return steps.findLastIndex(
    (step) => step.person === act[0]?.by && step.entries.some((entry) => records.has(entry.record)),
  );
}

function rootOf(record: string, ownerOf: OwnerOf): string {
  let root = record;
  // A mark lies on a photograph, a photograph on a defect: two steps at most.
  for (let up = 0; up < 2; up += 1) root = ownerOf(root) ?? root;
  return root;
}
