/** Which of several standing values counts until somebody chooses. */

import { GRADING_FIELDS } from '../../domain/fields';
import { grade } from '../../domain/grading';
import { byNature } from '../../domain/values';
import type { Json, Standard } from '../../services/shop';

/** Places in `values` of those that count now; none where that can't be said of one value alone. */
export function countedNow(
  field: string,
  values: readonly Json[],
  plain: Record<string, Json>,
  standard: Standard | null,
): number[] {
  if (field === 'place') return values.map((_, at) => at);
  if (field === 'stage') return earliest(values);
  if (!standard || !GRADING_FIELDS.includes(field)) return [];
  const grades = values.map((value) => grade({ ...plain, [field]: value }, standard).grade ?? -1);
  const worst = Math.max(...grades);
  const found = grades.flatMap((one, at) => (one === worst ? [at] : []));
  // Where all come to one grade, no value counts before another.
  return found.length === values.length ? [] : found;
}

function earliest(values: readonly Json[]): number[] {
  const named = values.filter((value) => typeof value === 'string').sort(byNature);
  return values.flatMap((value, at) => (value === named[0] && named[0] !== undefined ? [at] : []));
}
