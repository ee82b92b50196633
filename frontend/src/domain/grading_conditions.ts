/**
 * Conditions of a standard of acceptance, made into functions once and asked many times.
 * A condition is plain data. Its outcome is the reasons in words where it holds, false where it
 * does not, and null where a needed figure is missing.
 */

import { Refused } from './errors';
import {
  type Figures,
  figureNamed,
  lacks,
  shown,
  unreadable,
  type Values,
} from './grading_figures';
import { percentOf, type Quantity, roundedText, toMillionths, toTenthNm } from './quantities';

export type Outcome = readonly string[] | false | null;
export type Judge = (values: Values, figures: Figures) => Outcome;
type Gap = (values: Values) => false | null;
type Say = (values: Values) => string;
type Limit = Quantity | string;

export interface Bounded {
  over?: Limit;
  at_least?: Limit;
  under?: Limit;
  at_most?: Limit;
}

export interface Condition extends Bounded {
  figure?: string;
  share?: [string, string];
  ratio?: [string, string];
  percent?: string;
  count?: string;
  is?: string;
  word?: string;
  equals?: string;
  kind?: string[];
  any?: Condition[];
  all?: Condition[];
  always?: boolean;
  whole?: string;
  say?: string;
  say_without?: string;
}

type Test = (found: bigint, limit: bigint) => boolean;
interface Bound {
  test: Test;
  limit: bigint;
}

// Upper bounds first: where a band has both, the upper one is said.
const BOUNDS: readonly [keyof Bounded, string, Test][] = [
  ['at_most', '≤', (found, limit) => found <= limit],
  ['under', '<', (found, limit) => found < limit],
  ['over', '>', (found, limit) => found > limit],
  ['at_least', '≥', (found, limit) => found >= limit],
];
const MILLION = 1_000_000n;

/** The function that judges a condition; fields outside `needs` count only if given. */
export function condition(when: Condition, needs: Iterable<string>): Judge {
  const needed = new Set(needs);
  const build = BUILDERS.find(([subject]) => subject in when)?.[1];
  if (build) return build(when, needed);
  const message = `The condition ${JSON.stringify(when)} is of no kind known here.`;
  const subjects = BUILDERS.map(([subject]) => subject).join(', ');
  throw new Refused('unknown_condition', message, `A condition has one of: ${subjects}.`);
}

/**
 * What a condition comes to where a figure is missing: open where the figure is needed; and where
 * something is given that can't be read, or it would read as if nothing had been found.
 */
function gapOf(names: string[], needed: Set<string>): Gap {
  const figures = names.map(figureNamed);
  if (figures.every(({ needs }) => needs.every((field) => needed.has(field)))) return () => null;
  const fields = figures.flatMap((one) => one.fields);
  return (values) => (fields.some((field) => unreadable(values, field)) ? null : false);
}

function boundsOf(when: Condition, whole: (limit: unknown) => bigint): [Bound[], string] {
  const found = BOUNDS.filter(([name]) => when[name] !== undefined);
  const [first] = found;
  if (!first) {
    const message = `The condition ${JSON.stringify(when)} has no limit.`;
    throw new Refused('no_limit', message, `Give ${BOUNDS.map(([name]) => name).join(', ')}.`);
  }
  const bounds = found.map(([name, , test]) => ({ test, limit: whole(when[name]) }));
  return [bounds, `${first[1]} ${shown(when[first[0]])}`];
}

function sayOf(when: Condition, otherwise: Say): Say {
  const { say, say_without: without } = when;
  if (say === undefined) return otherwise;
  const parts = say.split(/\{(\w+)\}/);
  if (parts.length === 1) return () => say;
  const fields = parts.filter((_, at) => at % 2 === 1);
  return (values) =>
    without !== undefined && fields.some((field) => lacks(values, field))
      ? without
      : parts.map((part, at) => (at % 2 === 1 ? shown(values[part]) : part)).join('');
}

function within(found: bigint, bounds: readonly Bound[], times: bigint): boolean {
  for (const { test, limit } of bounds) if (!test(found, limit * times)) return false;
  return true;
}

function single(name: string, bounds: Bound[], gap: Gap, say: Say): Judge {
  return (values, figures) => {
    const found = figures[name] ?? null;
    if (found === null) return gap(values);
    return within(found, bounds, 1n) && [say(values)];
  };
}

function figure(when: Condition, needed: Set<string>): Judge {
  const name = when.figure as string;
  const about = figureNamed(name);
  const [bounds, said] = boundsOf(when, toTenthNm);
  const label = name.replaceAll('_', ' ');
  const say = sayOf(when, (values) => `${label} ${about.text(values)} ${said}`);
  return single(name, bounds, gapOf([name], needed), say);
}

function percent(when: Condition, needed: Set<string>): Judge {
  const name = when.percent as string;
  const [bounds, said] = boundsOf(when, toMillionths);
  const label = name.replace(/_percent$/, '').replaceAll('_', ' ');
  const say = sayOf(when, (values) => `${label} ${values[name]} % ${said} %`);
  return single(name, bounds, gapOf([name], needed), say);
}

function count(when: Condition, needed: Set<string>): Judge {
  const name = when.count as string;
  const [bounds, said] = boundsOf(when, (limit) => BigInt(limit as string));
  const say = sayOf(when, (values) => `${name} ${values[name]} ${said}`);
  return single(name, bounds, gapOf([name], needed), say);
}

function pair(
  names: [string, string],
  bounds: Bound[],
  times: bigint,
  gap: Gap,
  say: (values: Values, part: bigint, whole: bigint) => string,
): Judge {
  const [first, second] = names;
  return (values, figures) => {
    const part = figures[first] ?? null;
    const whole = figures[second];
    if (part === null || !whole) return gap(values);
    return within(part * times, bounds, whole) && [say(values, part, whole)];
  };
}

function share(when: Condition, needed: Set<string>): Judge {
  const names = when.share as [string, string];
  const [bounds, said] = boundsOf(when, toMillionths);
  const about = figureNamed(names[1]);
  const unsaid = when.whole === 'unsaid';
  return pair(names, bounds, 100n * MILLION, gapOf(names, needed), (values, part, whole) => {
    const of = unsaid ? '' : ` of ${about.text(values)}`;
    return `loss ${percentOf(part, whole)} ${said} %${of}`;
  });
}

function ratio(when: Condition, needed: Set<string>): Judge {
  const names = when.ratio as [string, string];
  const [bounds, said] = boundsOf(when, toMillionths);
  const label = names.map((name) => name.replace(/^least_/, '')).join('/');
  return pair(
    names,
    bounds,
    MILLION,
    gapOf(names, needed),
    (_values, part, whole) => `${label} ${roundedText(part, whole, 3)} ${said}`,
  );
}

function is(when: Condition, needed: Set<string>): Judge {
  const name = when.is as string;
  const is_needed = needed.has(name);
  const say = sayOf(when, () => name.replaceAll('_', ' '));
  return (values) => {
    const given = values[name];
    if (given === true) return [say(values)];
    if (given === false) return false;
    return is_needed || unreadable(values, name) ? null : false;
  };
}

function word(when: Condition, needed: Set<string>): Judge {
  const name = when.word as string;
  const is_needed = needed.has(name);
  const say = sayOf(when, () => String(when.equals));
  return (values) => {
    const given = values[name];
    if (given === when.equals) return [say(values)];
    if (given == null) return is_needed ? null : false;
    return unreadable(values, name) ? null : false;
  };
}

function kind(when: Condition): Judge {
  const kinds = new Set<unknown>(when.kind);
  const say = sayOf(when, (values) => String(values.kind));
  return (values) => kinds.has(values.kind) && [say(values)];
}

function always(when: Condition): Judge {
  const say = sayOf(when, (values) => String(values.kind));
  return (values) => [say(values)];
}

function any(when: Condition, needed: Set<string>): Judge {
  const judges = (when.any as Condition[]).map((one) => condition(one, needed));
  const said = when.say === undefined ? null : sayOf(when, () => '');
  return (values, figures) => {
    const reasons = new Set<string>();
    let open = false;
    for (const judge of judges) {
      const found = judge(values, figures);
      if (found === null) open = true;
      else if (found) for (const reason of found) reasons.add(reason);
    }
    if (reasons.size === 0) return open ? null : false;
    return said ? [said(values)] : [...reasons];
  };
}

function all(when: Condition, needed: Set<string>): Judge {
  const judges = (when.all as Condition[]).map((one) => condition(one, needed));
  const say = sayOf(when, () => '');
  return (values, figures) => {
    const found = judges.map((judge) => judge(values, figures));
    if (found.includes(false)) return false;
    if (found.includes(null)) return null;
    return [say(values) || found.flatMap((one) => one || []).join(', ')];
  };
}

const BUILDERS: readonly [keyof Condition, (when: Condition, needed: Set<string>) => Judge][] = [
  ['figure', figure],
  ['share', share],
  ['ratio', ratio],
  ['percent', percent],
  ['count', count],
  ['is', is],
  ['word', word],
  ['kind', kind],
  ['any', any],
  ['all', all],
  ['always', always],
];
