/** Whether an entry counts, as a function of what its author had seen and of nothing later.

An act is judged as one: when one of its moves, stamps or decisions does not count, none does.
Captures count as they come. */

import type { Entry } from '@sync/entry';
import { fieldOf, isCaptureField, isJudged, isMove } from './fields';
import { type Fault, FileMissing, isText, moveFault } from './moves';
import { actingRole, clean, confirmed, leftBefore } from './people';
import { MOVES, maySet } from './permissions';
import { Look } from './seen';
import { ACTS, isList } from './stamps';
import {
  actOf,
  COUNTS,
  isFields,
  type Known,
  Missing,
  Needs,
  names,
  type Pairs,
  type Result,
  stateOf,
  uptoOf,
  type Verdict,
  verdict,
  writerOf,
} from './verdicts';

export type Verdicts = Map<string, Verdict>;

/** The verdict on an entry, or what must be loaded first.

`actEntries` are all entries of its act that are here. */
export function judge(entry: Entry, actEntries: Iterable<Entry>, known: Known): Verdict | Needs {
  if (!isJudged(entry)) return COUNTS;
  const verdicts = judgeAct(actEntries, known);
  return verdicts instanceof Needs ? verdicts : (verdicts.get(entry.id) as Verdict);
}

/** The verdicts on the entries of one act, or what must be loaded first. */
export function judgeAct(actEntries: Iterable<Entry>, known: Known): Verdicts | Needs {
  const act = inOrder(actEntries);
  const judged = act.filter(isJudged);
  const captured = act.filter((one) => !isJudged(one)).map((one) => [one.id, COUNTS] as const);
  try {
    return new Map([...captured, ...verdictsOn(act, judged, known)]);
  } catch (missing) {
    if (missing instanceof Missing) return missing.needs;
    throw missing;
  }
}

function inOrder(entries: Iterable<Entry>): Entry[] {
  return [...entries].sort((a, b) => a.n - b.n || (a.id < b.id ? -1 : 1));
}

function verdictsOn(act: readonly Entry[], judged: readonly Entry[], known: Known): Verdicts {
  const [first] = act;
  if (first === undefined || judged.length === 0) return new Map();
  if (isBroken(act))
    return all(
      judged,
      'does not count',
      'broken act',
      'The entries of its act do not belong together.',
    );
  want(judged, known);
  if (isInCycle(judged, known))
    return all(judged, 'does not count', 'cycle', 'It names an entry that names it in turn.');
  const awaited = awaitedBy(judged, known);
  if (awaited.length > 0)
    return all(judged, 'waits', 'entries', 'Waiting for what it names.', awaited);
  if (act.length < first.act.of)
    return isRefused(act, first, known)
      ? all(judged, 'does not count', 'act', 'Another entry of the act was refused.')
      : all(judged, 'waits', 'act', 'Waiting for the rest of its act.');
  return judgedAct(act, judged, known);
}

function all(
  judged: readonly Entry[],
  result: Result,
  code: string,
  reason: string,
  waits_for: readonly string[] = [],
): Verdicts {
  const one = verdict(result, code, reason, { waits_for });
  return new Map(judged.map((entry) => [entry.id, one]));
}

/** Whether entries bear one act's name without being one person's act. */
function isBroken(act: readonly Entry[]): boolean {
  const spread = (act.at(-1)?.n ?? 0) - (act[0]?.n ?? 0);
  const alike = act.map((one) => JSON.stringify([actOf(one), one.act.of, one.by, one.device]));
  const isDistinct =
    new Set(act.map((one) => one.n)).size === act.length &&
    new Set(act.map((one) => one.record)).size === act.length;
  return new Set(alike).size > 1 || !isDistinct || spread >= (act[0]?.act.of ?? 0);
}

/** The ids that entries of an act name, without its own. */
function others(act: readonly Entry[]): Set<string> {
  const ids = new Set(act.flatMap((one) => [...names(one)]));
  for (const one of act) ids.delete(one.id);
  return ids;
}

function want(judged: readonly Entry[], known: Known): void {
  const wanted = new Set([...others(judged), ...judged.flatMap(uptoOf)]);
  const missing = [...wanted].filter((id) => known.entries.get(id) === undefined);
  if (missing.length > 0) throw new Missing(missing);
}

/** Whether a way through entries that wait, or are in a cycle, leads back to the act.

What was settled in any other way had all it names before it, so no way leads back from it. */
function isInCycle(judged: readonly Entry[], known: Known): boolean {
  if (judged.some((one) => names(one).has(one.id))) return true;
  const own = actOf(judged[0] as Entry);
  let acts: Map<string, Entry[]> | null = null;
  const passed = new Set<string>();
  const waiting = [...others(judged)];
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    if (passed.has(id)) continue;
    passed.add(id);
    const pair = known.entries.get(id);
    if (pair === undefined) throw new Missing([id]);
    if (pair === null || (pair[1].plain !== 'waits' && pair[1].code !== 'cycle')) continue;
    const key = actOf(pair[0]);
    if (key === own) return true;
    acts ??= actsOf(known.entries);
    const act = acts.get(key) ?? [];
    if (!isBroken(act)) waiting.push(...others(act.filter(isJudged)));
  }
  return false;
}

function actsOf(pairs: Pairs): Map<string, Entry[]> {
  const acts = new Map<string, Entry[]>();
  for (const pair of pairs.values())
    if (pair) acts.set(actOf(pair[0]), [...(acts.get(actOf(pair[0])) ?? []), pair[0]]);
  return new Map([...acts].map(([key, act]) => [key, inOrder(act)]));
}

/** The ids named that are not here or wait themselves; an `upto` need only be here. */
function awaitedBy(judged: readonly Entry[], known: Known): string[] {
  const named = [...others(judged)].filter((id) => {
    const pair = known.entries.get(id);
    return !pair || pair[1].plain === 'waits';
  });
  const ends = judged.flatMap(uptoOf).filter((id) => !known.entries.get(id));
  return [...new Set([...named, ...ends])].sort();
}

/** Whether no run of numbers is left in which the act could be complete. */
function isRefused(act: readonly Entry[], first: Entry, known: Known): boolean {
  const here = new Set(act.map((one) => one.n));
  const size = first.act.of;
  const writer = writerOf(first);
  const last = Math.max(...here);
  for (let start = Math.max(1, last - size + 1); start <= Math.min(...here); start++) {
    const run = Array.from({ length: size }, (_, at) => start + at);
    if (!run.some((n) => !here.has(n) && known.refused(writer, n))) return false;
  }
  return true;
}

const HELD = "Waiting for a lead to confirm it: its author's role had been withdrawn.";

function judgedAct(act: readonly Entry[], judged: readonly Entry[], known: Known): Verdicts {
  const look = new Look(act, known);
  let faults: Map<string, Fault>;
  try {
    faults = faultsOf(look, judged);
  } catch (missing) {
    if (!(missing instanceof FileMissing)) throw missing;
    const reason = 'Waiting for the file of the standard of acceptance.';
    return all(judged, 'waits', 'standard', reason, missing.files);
  }
  const held = isHeld(look, judged);
  const isClean = judged.every((one) => clean(look, one));
  const plain: Result = faults.size > 0 ? 'does not count' : 'counts';
  return new Map(judged.map((one) => [one.id, written(look, one, faults, plain, isClean, held)]));
}

function written(
  look: Look,
  entry: Entry,
  faults: ReadonlyMap<string, Fault>,
  plain: Result,
  clean: boolean,
  held: boolean,
): Verdict {
  if (held) return verdict('waits', 'leaver', HELD, { plain, clean });
  if (plain === 'counts')
    return verdict(plain, '', '', { clean, withdraws: withdrawnBy(look, entry) });
  const [code, reason] = faults.get(entry.id) ?? [
    'act',
    'Another entry of its act does not count.',
  ];
  return verdict(plain, code, reason, { clean });
}

function faultsOf(look: Look, judged: readonly Entry[]): Map<string, Fault> {
  const faults = new Map<string, Fault>();
  for (const one of judged) {
    const fault = faultOf(look, one);
    if (fault) faults.set(one.id, fault);
  }
  return faults;
}

function faultOf(look: Look, entry: Entry): Fault | null {
  const [role, reason] = actingRole(look, entry);
  if (role === null) return ['no role', reason];
  const row = MOVES.find((one) => one.move === stateOf(entry).move);
  const byItself = row?.sets_by_itself ?? {};
  for (const [field, value] of Object.entries(entry.set).sort(([a], [b]) => (a < b ? -1 : 1))) {
    if (isCaptureField(entry.kind, field)) continue;
    const allowed = Object.hasOwn(byItself, field) ? byItself[field] : null;
    if (allowed !== null && (allowed === 'any' || allowed === value)) continue;
    if (!maySet(role, entry.kind, field)) {
      const label = fieldOf(entry.kind, field)?.label ?? field;
      return ['field', `'${label}' is not for the role ${role.replaceAll('_', ' ')}.`];
    }
  }
  if (isMove(entry)) return moveFault(look, entry, role);
  return entry.kind === 'stamp' ? stampFault(look, entry, role) : null;
}

function stampFault(look: Look, entry: Entry, role: string): Fault | null {
  const { act, number, person, list } = entry.set;
  const isWhole = ['defect', 'act', 'number', 'person', 'list'].every((field) =>
    Object.hasOwn(entry.set, field),
  );
  if (!isWhole || Object.keys(entry.seen).length > 0)
    return ['stamp', 'A stamp is made whole and never changed.'];
  if (!isList(list)) return ['stamp', 'The list stamped has no count and sha256.'];
  if (person !== entry.by) return ['stamp', 'Nobody can stamp as another.'];
  if (typeof act !== 'string' || !ACTS.includes(act))
    return ['stamp', `No stamp is made for '${act}'; expected ${ACTS.join(', ')}.`];
  if (act === 'DISPOSITION' && role === 'inspector')
    return ['stamp', 'A disposition is stamped by the lead or the design authority.'];
  const numbers = look.relied('person').map((one) => one.set.stamp_number);
  const given = numbers.filter(isFields).map((one) => one.number);
  if (!isText(number) || (given.length > 0 && !given.includes(number)))
    return ['stamp', `Stamp ${number} is not the author's.`];
  return null;
}

/** Whether an act waits for a lead: its author left, or it rests on such an act. */
function isHeld(look: Look, judged: readonly Entry[]): boolean {
  for (const id of others(judged)) if (look.pair(id)?.[1].result === 'waits') return true;
  return judged.some((one) => leftBefore(look, one) && !confirmed(look.known, one));
}

function withdrawnBy(look: Look, entry: Entry): string | null {
  const { move, undoes } = stateOf(entry);
  return move === 'undo' ? (look.pair(undoes as string)?.[0].act.id ?? null) : null;
}
