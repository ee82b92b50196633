/** What the row of a defect is made from, besides what stands of it and its documents. */

import { type Day, dayStamped } from './days';
import type { Others } from './same_as';
import type { Values } from './values';
import type { Pair } from './verdicts';

/** What the row of a defect is made from, besides what stands of it and its documents.

`entries`: the entries of the record with their verdicts (`COUNTS` for captures); those that set
`state` must be there, of the others only numbers given up and entries that do not count are read.
`stamps`: the entries of the stamps that name the record, with their verdicts and acts' others.
`withdrawn`: the acts that were undone. `photographs`, `marks`, `scales`, `measurements`, `lines`:
by record what stands of the photographs that name the defect, of what lies on them, and of rivet
lines that name it. `others`: the
record's chain of *same as*, see `chainLacks`; the record itself may be left out. `day`: the
workshop's day of an entry. */
export interface Related {
  entries: readonly Pair[];
  stamps: readonly Pair[];
  withdrawn: ReadonlySet<string>;
  photographs: Readonly<Record<string, Values>>;
  marks: Readonly<Record<string, Values>>;
  scales: Readonly<Record<string, Values>>;
  measurements: Readonly<Record<string, Values>>;
  lines: Readonly<Record<string, Values>>;
  others: Others;
  day: Day;
  number_shared: boolean;
}

/** What a row is made from; what is left out is nothing. */
export function relatedOf(given: Partial<Related> = {}): Related {
  return {
    entries: [],
    stamps: [],
    withdrawn: new Set(),
    photographs: {},
    marks: {},
    scales: {},
    measurements: {},
    lines: {},
    others: {},
    day: dayStamped,
    number_shared: false,
    ...given,
  };
}
