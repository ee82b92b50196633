/** What the rivet lines linked to a defect give its grade to read: shear share and run, as found.

The share is the low figure, in which a hole not reached carries nothing, for that is what the
limits of a standard are laid on. A run is only what is confirmed: one that holes not reached may
lengthen leaves the grade open. */

import type { Compiled, Grading, Standard } from './grading';
import { gradeWithDoubt } from './grading_doubt';
import { MOST_TRIED, opened, raises } from './grading_worst';
import { NOT_MEASURED, scaled } from './quantities';
import { type Line, readLine } from './rivet_line_holes';
import { loadsOf, share } from './rivet_line_shear';
import { longestRun, STATES } from './rivet_line_states';
import { differing, type Values } from './values';
import { type Fields, isFields } from './verdicts';

const SHARE = 'shear_share_percent';
const RUN = 'run';
const KIND = 'rivet_line';
/** Stands for the share of a line that is linked but can't be read: it keeps its rows open. */
export const UNREAD = 'cannot be worked out';

export type Given = Record<string, unknown[]>;

/** What one line says as found: share (null where it can't be read), confirmed run, run. */
interface Reading {
  share: string | null;
  run: number;
  possible: number;
}

const UNREADABLE: Reading = { share: null, run: 0, possible: 0 };

/** The worst grade of what stands of a record and of the rivet lines that name it. */
export function gradeWithLines(
  values: Values,
  lines: Readonly<Record<string, Values>>,
  standard: Standard | Compiled,
): Grading {
  const given = lineInputs(lines);
  const [run, ...longer] = given[RUN] ?? [];
  if (run === undefined) return gradeWithDoubt(values, standard);
  let grading = gradeWithDoubt(joined(values, { ...given, [RUN]: [run] }), standard);
  for (const possible of longer) {
    const longest = gradeWithDoubt(joined(values, { ...given, [RUN]: [possible] }), standard);
    if (raises(grading, longest)) grading = opened(grading, longest, [RUN]);
  }
  return grading;
}

/** By field what the lines give grading to read: of all that stands the worst.

The least share, and `UNREAD` beside it where one can't be worked out; the longest run that is
confirmed, and after it the longest possible one where that is longer. Lines without holes give
nothing. */
export function lineInputs(lines: Readonly<Record<string, Values>>): Given {
  const readings = Object.values(lines).flatMap(readingsOf);
  if (readings.length === 0) return {};
  const read = readings.flatMap((one) => one.share ?? []).sort(byShare);
  const shares = readings.some((one) => one.share === null)
    ? [...read.slice(0, 1), UNREAD]
    : read.slice(0, 1);
  const run = Math.max(...readings.map((one) => one.run));
  const possible = Math.max(...readings.map((one) => one.possible));
  return { [SHARE]: shares, [RUN]: possible > run ? [run, possible] : [run] };
}

function byShare(a: string, b: string): number {
  const [one, other] = [scaled(a, 1_000_000n) ?? 0n, scaled(b, 1_000_000n) ?? 0n];
  return one < other ? -1 : one > other ? 1 : 0;
}

/** Every combination of the values that stand of a line, read, if its holes are there. */
function readingsOf(values: Values): Reading[] {
  const choices = ['design', 'as_found', 'holes'].map((field) => {
    const some = differing(KIND, values, field);
    return some.length > 0 ? some : [null];
  });
  const [designs, founds, holes] = choices as [unknown[], unknown[], unknown[]];
  const all = designs.length * founds.length * holes.length;
  const readings: Reading[] = [];
  for (let at = 0; at < Math.min(all, MOST_TRIED); at++) {
    const pair = Math.floor(at / holes.length);
    const found = founds[pair % founds.length];
    if (found === null || found === '') continue;
    const design = designs[Math.floor(pair / founds.length)];
    readings.push(readingOf(design, found, holes[at % holes.length]));
  }
  return all > MOST_TRIED ? [...readings, UNREADABLE] : readings;
}

function readingOf(design: unknown, found: unknown, holes: unknown): Reading {
  if (typeof found !== 'string' || [...found].some((one) => !Object.hasOwn(STATES, one)))
    return UNREADABLE;
  const run = longestRun(found).length;
  const possible = longestRun(found, true).length;
  try {
    const line = readLine(lineIn(design, found, holes));
    return { share: share(loadsOf(line, true)), run, possible };
  } catch {
    // A record may hold anything; what can't be read keeps the grade open.
    return { share: null, run, possible };
  }
}

/** As much of a line as its share hangs on. */
function lineIn(design: unknown, found: string, holes: unknown): Line {
  const { planes, ...said } = fieldsOf(design);
  if (planes != null && !(Number.isSafeInteger(planes) && (planes as number) >= 1))
    throw new TypeError('planes');
  const own = Object.entries(fieldsOf(holes ?? {})).map(([at, hole]) => [at, holeIn(hole)]);
  const texts = ['head', 'basis', 'f_bru_psi'].map((name) => [name, textOf(said, name)]);
  return {
    ...rivetIn(said),
    ...Object.fromEntries(texts),
    planes: planes ?? undefined,
    sheets: sheetsOf(said),
    as_found: found,
    as_now: found,
    holes: Object.fromEntries(own),
  } as Line;
}

function holeIn(hole: unknown) {
  const said = fieldsOf(hole);
  const fitted = said.fitted == null ? {} : rivetIn(fieldsOf(said.fitted));
  const given = Object.values(fitted).some(Boolean) ? { fitted } : {};
  return { ...rivetIn(said), sheets: sheetsOf(said), ...given };
}

const rivetIn = (said: Fields) => ({
  diameter: textOf(said, 'diameter'),
  alloy: textOf(said, 'alloy'),
});

function fieldsOf(value: unknown): Fields {
  if (!isFields(value)) throw new TypeError('no fields');
  return value;
}

function textOf(said: Fields, name: string): string | undefined {
  const value = said[name] ?? undefined;
  if (value !== undefined && typeof value !== 'string') throw new TypeError(name);
  return value;
}

function sheetsOf(said: Fields): unknown[] {
  const sheets = said.sheets ?? [];
  if (!Array.isArray(sheets)) throw new TypeError('sheets');
  return sheets;
}

/** Puts what lines say beside what was typed; where nothing was, theirs stands alone. */
function joined(values: Values, given: Given): Values {
  const isLeft = ([field, value]: [string, unknown]) =>
    !Object.hasOwn(given, field) || (value !== null && value !== NOT_MEASURED);
  const own = Object.entries(values).map(
    ([id, fields]) => [id, Object.fromEntries(Object.entries(fields).filter(isLeft))] as const,
  );
  const added = Object.entries(given).flatMap(([field, some]) =>
    some.map((value, at) => [`${KIND} ${field} ${at}`, { [field]: value }] as const),
  );
  return Object.fromEntries([...own, ...added]) as Values;
}
