/** The states of a rivet line's holes, a letter a hole: counts, runs, putting a line right. */

import { Refused } from './errors';
import { rowOf } from './kinds';

export const STATES: Readonly<Record<string, string>> = {
  S: 'sound',
  L: 'loose',
  W: 'working',
  C: 'corroded',
  T: 'tipped or sheared',
  M: 'missing',
  D: 'drilled out',
  R: 'renewed',
  V: 'renewed oversize',
  N: 'not reached',
};
export const NOT_EFFECTIVE = 'LWCTMD';
const NOT_REACHED = 'N';

export interface Run {
  length: number;
  from: number | null;
  to: number | null;
}

/** The part of a line that these functions put right. */
export interface States<Hole = unknown> {
  as_found: string;
  as_now: string;
  holes?: Readonly<Record<string, Hole>>;
}

/** How many holes are in each state that occurs. */
export function countsOf(states: string): Record<string, number> {
  const count = (state: string) => states.split(state).length - 1;
  const present = Object.keys(STATES).filter((state) => states.includes(state));
  return Object.fromEntries(present.map((state) => [state, count(state)]));
}

/** The holes that carry nothing, counted from 1. */
export function notEffective(states: string): number[] {
  return [...states].flatMap((state, at) => (NOT_EFFECTIVE.includes(state) ? at + 1 : []));
}

/** The first longest run not effective; with holes not reached, the possible run. */
export function longestRun(states: string, notReached = false): Run {
  const counted = notReached ? NOT_EFFECTIVE + NOT_REACHED : NOT_EFFECTIVE;
  let best: Run = { length: 0, from: null, to: null };
  let length = 0;
  for (const [before, state] of [...states].entries()) {
    length = counted.includes(state) ? length + 1 : 0;
    if (length > best.length) best = { length, from: before + 2 - length, to: before + 1 };
  }
  return best;
}

/** Refuses states that are none, or of which there are not as many now as were found. */
export function checkStates(found: string, now: string): void {
  const strange = [...found, ...now].find((state) => rowOf(STATES, state) === undefined);
  if (strange !== undefined) {
    const known = Object.entries(STATES).map(([one, word]) => `${one} ${word}`);
    const message = `“${strange}” is no state of a rivet.`;
    throw new Refused('not_a_rivet_line', message, `States are ${known.join(', ')}.`);
  }
  if (found.length > 0 && found.length === now.length) return;
  throw new Refused(
    'not_a_rivet_line',
    `${found.length} holes were found and ${now.length} are there now.`,
    'Put in or take out the hole that was skipped or counted twice.',
  );
}

/** A line that was gone through from its wrong end, hole 1 at the other. */
export function reverseLine<Line extends States>(line: Line): Line {
  const count = line.as_found.length;
  const turned = (states: string) => [...states].reverse().join('');
  const holes = renumbered(line, (at) => count + 1 - at);
  return { ...line, as_found: turned(line.as_found), as_now: turned(line.as_now), holes };
}

/** A line with a hole that was skipped; it becomes hole `at`, the rest move on. */
export function insertHole<Line extends States>(line: Line, at: number, state: string): Line {
  const put = (states: string) => states.slice(0, at - 1) + state + states.slice(at - 1);
  const holes = renumbered(line, (name) => (name >= at ? name + 1 : name));
  return { ...line, as_found: put(line.as_found), as_now: put(line.as_now), holes };
}

/** A line without a hole that was counted twice; the rest move back. */
export function removeHole<Line extends States>(line: Line, at: number): Line {
  const take = (states: string) => states.slice(0, at - 1) + states.slice(at);
  const holes = renumbered(line, (name) => (name === at ? null : name > at ? name - 1 : name));
  return { ...line, as_found: take(line.as_found), as_now: take(line.as_now), holes };
}

function renumbered(line: States, move: (at: number) => number | null): Record<string, unknown> {
  const moved = Object.entries(line.holes ?? {}).map(([at, hole]) => [move(Number(at)), hole]);
  return Object.fromEntries(moved.filter(([at]) => at !== null));
}
