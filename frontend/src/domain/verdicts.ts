/** What a judgement is made from and what it says. */

import type { Entry } from '@sync/entry';
import { isCaptureField } from './fields';

export type Result = 'counts' | 'does not count' | 'waits';

/** Whether an entry counts; `reason` is a sentence, `waits_for` holds ids of entries or files.

`plain` is the result but for people who left; `clean` says that no role between the author and the
first lead was withdrawn before this; `withdraws` is the act an undo takes back, of the undo's own
writer. */
export interface Verdict {
  readonly result: Result;
  readonly code: string;
  readonly reason: string;
  readonly waits_for: readonly string[];
  readonly plain: Result;
  readonly clean: boolean;
  readonly withdraws: string | null;
}

export function verdict(result: Result, code = '', reason = '', more: Partial<Verdict> = {}) {
  const plain: Verdict = {
    result,
    code,
    reason,
    waits_for: [],
    plain: result,
    clean: true,
    withdraws: null,
  };
  return { ...plain, ...more };
}

export const COUNTS: Verdict = verdict('counts');

/** Codes of entries whose `seen` says nothing to those who name them. */
export const NAMES_NOTHING: readonly string[] = ['cycle', 'broken act'];

export type Pair = readonly [entry: Entry, verdict: Verdict];

/** Values by field, such as those a move has named. */
export type Given = Readonly<Record<string, readonly unknown[]>>;

/** What must be loaded before an entry can be judged: entries, and the records of people. */
export class Needs {
  constructor(
    readonly ids: readonly string[] = [],
    readonly people: readonly string[] = [],
  ) {}
}

/** Something must be loaded first. */
export class Missing extends Error {
  readonly needs: Needs;

  constructor(ids: Iterable<string> = [], people: Iterable<string> = []) {
    super('Something must be loaded first.');
    this.needs = new Needs([...ids].sort(), [...people].sort());
  }
}

/** What is looked up by id: undefined is not loaded, null is known not to be here. */
export interface Pairs {
  get(id: string): Pair | null | undefined;
  values(): Iterable<Pair | null>;
}

/** What a judgement may look at.

`entries`: by id the entry and its verdict (`COUNTS` for captures), null where the book has no such
entry yet; an entry that waits comes with the other entries of its act. `people`: by person the
judged entries of that person's record. `reached`: whether an entry is reached by `prev` from one of
the ends of an `upto`. `gradeOf`: the highest grade that values can give under the pinned standards;
null while a standard's file is not here. `root`: id of the entry that created the book; null: any
will do. `refused`: whether an entry of a writer with this `n` was refused at the door. */
export interface Known {
  readonly entries: Pairs;
  readonly people: { get(person: string): readonly Pair[] | undefined };
  readonly reached: (entry: Entry, ends: readonly string[]) => boolean;
  readonly gradeOf: (values: Given, pins: readonly unknown[]) => number | null;
  readonly root: string | null;
  readonly refused: (writer: string, n: number) => boolean;
}

/** The rules at hand, with what is left out taken at its strictest. */
export function knownOf(given: Partial<Known> = {}): Known {
  return {
    entries: new Map(),
    people: new Map(),
    reached: (entry, ends) => ends.includes(entry.id),
    gradeOf: () => 4,
    root: null,
    refused: () => false,
    ...given,
  };
}

/** The writer: the end of the id. */
export function writerOf(entry: Entry): string {
  return entry.id.slice(-8);
}

/** The key of an entry's act: its writer and its id. */
export function actOf(entry: Entry): string {
  return `${writerOf(entry)} ${entry.act.id}`;
}

/** Whether an entry counts for a field, but for people who left. */
export function plainlyCounts(entry: Entry, verdict: Verdict, field: string): boolean {
  return verdict.plain === 'counts' || isCaptureField(entry.kind, field);
}

export type Fields = Readonly<Record<string, unknown>>;

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The state an entry sets, empty where it is none. */
export function stateOf(entry: Entry): Fields {
  return isFields(entry.set.state) ? entry.set.state : {};
}

/** The role an entry gives a person, null where it gives none. */
export function roleOf(entry: Entry): Fields | null {
  const role = entry.kind === 'person' ? entry.set.role : null;
  return isFields(role) && Object.keys(role).length > 0 ? role : null;
}

const texts = (value: unknown): string[] =>
  Array.isArray(value) ? value.filter((one) => typeof one === 'string') : [];

/** The ends of the chains a withdrawal lets stand. */
export function uptoOf(entry: Entry): string[] {
  return texts(roleOf(entry)?.upto);
}

/** The ids a lead's entry confirms after their author left. */
export function confirmsOf(entry: Entry): string[] {
  return entry.kind === 'person' ? texts(entry.set.confirms) : [];
}

/** The ids whose verdicts a judged entry rests on. */
export function names(entry: Entry): Set<string> {
  const ids = new Set([...Object.values(entry.seen).flat(), ...entry.relies]);
  const undoes = stateOf(entry).undoes;
  if (typeof undoes === 'string') ids.add(undoes);
  return ids;
}

/** The ids under which a judged entry must be found when one of them changes. */
export function indexOf(entry: Entry, verdict: Verdict): Set<string> {
  const found = [...names(entry), ...uptoOf(entry), ...confirmsOf(entry), ...verdict.waits_for];
  return new Set(verdict.clean ? found : [...found, unreached(entry.device)]);
}

/** What entries of a device are found under that its chain may yet be shown to reach. */
export const unreached = (device: string): string => `unreached:${device}`;
