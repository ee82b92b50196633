/** The worst grade of a record where two values stand for one field. */

import { type Compiled, compileStandard, type Grading, grade, type Standard } from './grading';
import { COPIED, type Values } from './grading_figures';
import { HIGHEST } from './kinds';
import { isUnmeasured, tenthNmOrNull } from './quantities';

export const MOST_TRIED = 64;

/** The values that stand for a record, by entry: {entry id: {field: value}}. */
export type StandingValues = Readonly<Record<string, Values>>;

type Choice = [field: string, values: unknown[]];

/** Grades every combination of the values that stand, and returns the highest. */
export function worstGrade(standing: StandingValues, standard: Standard | Compiled): Grading {
  const compiled = compileStandard(standard);
  const choices = choicesOf(standing, compiled.inputs);
  const count = choices.reduce((product, [, values]) => product * values.length, 1);
  const gradings: Grading[] = [];
  for (let at = 0; at < Math.min(count, MOST_TRIED); at++) {
    gradings.push(grade(combination(choices, at), compiled));
  }
  const worst = gradings.reduce((most, each) => (isWorse(each, most) ? each : most));
  return gradings.length === 1 ? worst : widened(worst, gradings, count <= MOST_TRIED);
}

/**
 * Each input that stands with its differing values: by field name, then entry id. What was copied
 * from another record stands for nothing beside a measured figure; alone it stands as unreadable.
 */
function choicesOf(standing: StandingValues, inputs: readonly string[]): Choice[] {
  const entries = Object.keys(standing).sort();
  const choices: Choice[] = [];
  for (const field of inputs) {
    const differing = new Map<string, unknown>();
    for (const entry of entries) {
      const values = standing[entry] as Values;
      if (!Object.hasOwn(values, field)) continue;
      const value = isUnmeasured(values[field]) ? COPIED : values[field];
      const same = sameness(value);
      if (!differing.has(same)) differing.set(same, value);
    }
    const is_measured = [...differing.values()].some((value) => tenthNmOrNull(value) !== null);
    if (is_measured) differing.delete(sameness(COPIED));
    if (differing.size > 0) choices.push([field, [...differing.values()]]);
  }
  return choices;
}

/** What makes two values one: a quantity typed differently is the same length. */
function sameness(value: unknown): string {
  const length = tenthNmOrNull(value);
  return length === null ? `${typeof value} ${JSON.stringify(value)}` : `length ${length}`;
}

/** The combination at an index: the last field changes fastest. */
function combination(choices: Choice[], index: number): Values {
  const values: Record<string, unknown> = {};
  let rest = index;
  for (const [field, options] of [...choices].reverse()) {
    values[field] = options[rest % options.length];
    rest = Math.floor(rest / options.length);
  }
  return values;
}

function badness(grading: Grading): [number, number, number] {
  return [grading.grade ?? -1, grading.known ? 0 : 1, Math.max(0, ...grading.could_be)];
}

function isWorse(grading: Grading, other: Grading): boolean {
  const [mine, its] = [badness(grading), badness(other)];
  const at = mine.findIndex((part, index) => part !== its[index]);
  return at >= 0 && (mine[at] as number) > (its[at] as number);
}

/** The worst with everything the other combinations leave open above it. */
function widened(worst: Grading, gradings: Grading[], triedAll: boolean): Grading {
  const least = worst.grade ?? -1;
  const above = (each: Grading) => each.could_be.filter((grade) => grade > least);
  const could = new Set(gradings.flatMap(above));
  if (!triedAll) for (let grade = least + 1; grade <= HIGHEST; grade++) could.add(grade);
  const raising = gradings.filter((each) => above(each).length > 0);
  return {
    ...worst,
    known: triedAll && could.size === 0 && gradings.every(isJudged),
    missing: [...new Set(raising.flatMap((each) => each.missing))],
    could_be: [...could].sort(),
    unjudged: [...new Set(raising.flatMap((each) => each.unjudged))],
    hand_off: gradings.some((each) => each.hand_off),
    must_choose: !triedAll,
    partly_cleaned: raising
      .filter((each) => each.missing.includes('cleaned'))
      .every((each) => each.partly_cleaned),
    cleaned_unsaid: raising
      .filter((each) => each.missing.includes('cleaned'))
      .every((each) => each.cleaned_unsaid),
    unreadable: [...new Set(raising.flatMap((each) => each.unreadable))],
  };
}

/** Whether another grading of the same record is higher, or can't be tried whole. */
export function raises(grading: Grading, worse: Grading): boolean {
  const least = grading.grade ?? -1;
  return worse.must_choose || worse.fired.some((one) => one.grade > least);
}

/** Leaves open what another value of these fields would raise: the grade is *at least*. */
export function opened(grading: Grading, worse: Grading, fields: readonly string[]): Grading {
  const least = grading.grade ?? -1;
  const raising = worse.fired.filter((one) => one.grade > least);
  const grades = raising.map((one) => one.grade);
  const could = new Set([...grading.could_be, ...worse.could_be, ...grades]);
  return {
    ...grading,
    known: false,
    missing: [...new Set([...grading.missing, ...fields])],
    could_be: [...could].filter((grade) => grade > least).sort(),
    unjudged: [...new Set([...grading.unjudged, ...raising.map((one) => one.rule)])],
    hand_off: grading.hand_off || worse.hand_off,
    must_choose: grading.must_choose || worse.must_choose,
  };
}

/** Whether the standard has rows for these values, be their figures there or not. */
function isJudged(grading: Grading): boolean {
  return grading.grade !== null || grading.could_be.length > 0;
}
