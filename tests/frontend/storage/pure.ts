/** What the pure functions make of a whole book, in the simplest way there is. */

import type { Entry } from '@sync/entry';
import type { Counts, Standing } from '@sync/standing';
import { countedFields } from '../../../frontend/src/domain/fields';
import type { Judged } from '../../../frontend/src/domain/ledger';
import { defectRow } from '../../../frontend/src/domain/projection';
import { relatedOf } from '../../../frontend/src/domain/projection_related';
import { type Other, otherOf } from '../../../frontend/src/domain/same_as';
import { actOf, COUNTS } from '../../../frontend/src/domain/verdicts';

/** What counts of each entry, by the verdicts of the whole book. */
export function countsOf({ verdicts, withdrawn }: Judged): Counts {
  return (one) => {
    const counts = (verdicts.get(one.id) ?? COUNTS).result === 'counts';
    return countedFields(one, counts, withdrawn.has(actOf(one)));
  };
}

/** The rows that the pure functions make of a whole book, in the simplest way there is. */
export function pureRows(entries: Entry[], stands: Map<string, Standing>, judged: Judged) {
  const pairs = entries.map((one) => [one, judged.verdicts.get(one.id) ?? COUNTS] as const);
  const ids = [...new Set(pairs.map(([{ record }]) => record))].sort();
  const kindOf = (record: string) => entries.find((one) => one.record === record)?.kind;
  const naming = (kind: string, field: string, of: string[]) =>
    ids.filter((one) => {
      const values = Object.values(stands.get(one)?.values ?? {});
      return kindOf(one) === kind && values.some((fields) => of.includes(fields[field] as string));
    });
  const values = (list: string[]) =>
    Object.fromEntries(list.map((one) => [one, (stands.get(one) as Standing).values]));
  const defects = ids.filter((one) => kindOf(one) === 'defect');
  const make = (record: string, others: Record<string, Other>, number_shared: boolean) => {
    const photographs = naming('photograph', 'defect', [record]);
    const stamps = naming('stamp', 'defect', [record]);
    const acts = pairs.filter(([one]) => stamps.includes(one.record)).map(([one]) => actOf(one));
    const related = relatedOf({
      entries: pairs.filter(([one]) => one.record === record),
      stamps: pairs.filter(([one]) => acts.includes(actOf(one))),
      withdrawn: judged.withdrawn,
      photographs: values(photographs),
      marks: values(naming('mark', 'photograph', photographs)),
      lines: values(naming('rivet_line', 'defect', [record])),
      others,
      number_shared,
    });
    return defectRow(record, stands.get(record) as Standing, related, null, null);
  };
  const alone = defects.map((one) => make(one, {}, false));
  const others = Object.fromEntries(alone.map((row) => [row.record, otherOf(row)]));
  return alone.map((row) => {
    const shared = row.number && alone.filter(({ number }) => number === row.number).length > 1;
    return make(row.record, others, Boolean(shared));
  });
}
