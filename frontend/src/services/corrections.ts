/** A change of what was captured on a record that is raised: it needs a reason. */

import { fieldOf } from '../domain/fields';
import { isUnmeasured } from '../domain/quantities';
import { sameness, standingOf, type Values } from '../domain/values';
import type { Json } from './shop';

/** Reasons that have a key of their own, the commonest first. */
export { CHANGE_REASONS as REASONS } from '../domain/change_reasons';

/** The fields of a defect whose standing value a write would replace by another; what is written
for the first time is none, nor is anything on a draft. */
export function correctedFields(
  values: Values,
  state: string | null,
  set: Record<string, Json>,
): string[] {
  if (state === null || state === 'Draft') return [];
  return Object.keys(set).filter((field) => {
    const stamped = fieldOf('defect', field)?.stamped;
    if (stamped !== 'found' && stamped !== 'measured') return false;
    const now = sameness('defect', field, set[field] ?? null);
    // What was only copied is measured for the first time.
    const stood = standingOf(values, field).filter((value) => !isUnmeasured(value));
    return stood.some((value) => sameness('defect', field, value) !== now);
  });
}
