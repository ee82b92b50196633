/** Grades by the standards that records pin, read from the files kept here. */

import { type Compiled, compileStandard, type Grading, type Standard } from '../domain/grading';
import { gradeWithDoubt } from '../domain/grading_doubt';
import { HIGHEST } from '../domain/kinds';
import type { Given } from '../domain/verdicts';
import { isFields } from '../domain/verdicts';

export type ReadJson = (sha256: string) => unknown;

const COMPILED = new WeakMap<object, Compiled>();

/** The standard that a value {name, issue, sha256} pins; null while it is not here or is none. */
export function pinnedStandard(pin: unknown, read: ReadJson): Compiled | null {
  const sha256 = isFields(pin) ? pin.sha256 : null;
  const file = typeof sha256 === 'string' ? read(sha256) : null;
  return isFields(file) ? compiled(file) : null;
}

function compiled(file: object): Compiled | null {
  const known = COMPILED.get(file);
  if (known) return known;
  try {
    const standard = compileStandard(file as Standard);
    COMPILED.set(file, standard);
    return standard;
  } catch {
    return null; // A file of another form grades nothing; the record is shown as not graded.
  }
}

/** The highest grade that values can give under the pinned standards; null while one is away. */
export function highestGrade(
  values: Given,
  pins: readonly unknown[],
  read: ReadJson,
): number | null {
  const standards = pins.map((pin) => pinnedStandard(pin, read));
  if (standards.length === 0 || standards.includes(null)) return null;
  const given: Record<string, Record<string, unknown>> = {};
  for (const [field, some] of Object.entries(values)) {
    for (const [place, value] of some.entries()) given[`${place}:${field}`] = { [field]: value };
  }
  const gradings = standards.map((one) => gradeWithDoubt(given, one as Compiled));
  return Math.max(...gradings.map(highestPossible));
}

/** The highest grade a grading leaves open; what no row speaks of may be anything. */
function highestPossible({ grade, could_be }: Grading): number {
  if (grade === null && could_be.length === 0) return HIGHEST;
  return Math.max(grade ?? 0, ...could_be);
}
