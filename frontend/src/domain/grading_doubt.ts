/** What the ± of a figure leaves open: a limit that the figure reaches within its ±.

Inside its ± (k = 2) a figure proves neither side of a limit, so where any value in there would
raise the grade, the grade is *at least* (decision rule of ISO 14253-1, from memory). */

import { type Compiled, compileStandard, type Grading, type Standard } from './grading';
import { opened, raises, type StandingValues, worstGrade } from './grading_worst';
import { isUnmeasured, roundedText, TENTH_NM, tenthNmOrNull } from './quantities';
import { isFields } from './verdicts';

const LENGTHS = ['depth', 'length', 'width', 'thickness', 'hole_major', 'hole_minor'];
/** Nought of these reads as not measured, so what is left of them stays above it. */
const LEAST: Record<string, bigint> = { width: 1n, thickness: 1n };
const MM_PLACES = 7;

/** The worst grade of what stands, open where the ± of a figure may raise it.

Limits are steps, so the ends of a ± say all: each figure is tried less and more its ±, with those
of every other. A field is named by itself where its own ± suffices, else all are. */
export function gradeWithDoubt(values: StandingValues, standard: Standard | Compiled): Grading {
  const compiled = compileStandard(standard);
  const grading = worstGrade(values, compiled);
  const fields = doubtedIn(values);
  if (fields.length === 0) return grading;
  const worse = worstGrade(spread(values, fields), compiled);
  if (!raises(grading, worse)) return grading;
  const alone = fields.filter((one) =>
    raises(grading, worstGrade(spread(values, [one]), compiled)),
  );
  const doubted = alone.length > 0 ? alone : fields;
  return { ...opened(grading, worse, doubted), doubted };
}

/** The fields with a ±; most records have none, and all that is graded comes here. */
function doubtedIn(values: StandingValues): string[] {
  const has = Object.values(values).some((given) =>
    Object.values(given).some((value) => isFields(value) && 'uncertainty' in value),
  );
  return has ? LENGTHS.filter((field) => rough(values, field).length > 0) : [];
}

/** The entries whose value of a field has a ±. */
function rough(values: StandingValues, field: string): string[] {
  return Object.keys(values).filter((id) => ends(field, values[id]?.[field]).length > 0);
}

/** A figure less and more its ±, or nothing where it has none. */
function ends(field: string, value: unknown): object[] {
  if (!isFields(value) || !Object.hasOwn(value, 'uncertainty') || isUnmeasured(value)) return [];
  const [length, doubt] = [tenthNmOrNull(value), tenthNmOrNull(value.uncertainty)];
  if (length === null || doubt === null || doubt <= 0n) return [];
  const least = LEAST[field] ?? 0n;
  return [length - doubt > least ? length - doubt : least, length + doubt].map(inMm);
}

function inMm(tenthsNm: bigint): object {
  return { value: roundedText(tenthsNm, TENTH_NM.mm, MM_PLACES), unit: 'mm' };
}

/** Puts both ends of the ± of these fields in the place of their figures. */
function spread(values: StandingValues, fields: string[]): StandingValues {
  const own = Object.fromEntries(Object.entries(values).map(([id, given]) => [id, { ...given }]));
  const added: Record<string, Record<string, unknown>> = {};
  for (const field of fields)
    for (const id of rough(values, field)) {
      const given = own[id] as Record<string, unknown>;
      const [less, more] = ends(field, given[field]);
      delete given[field];
      added[`${id} ${field} less`] = { [field]: less };
      added[`${id} ${field} more`] = { [field]: more };
    }
  return { ...own, ...added };
}
