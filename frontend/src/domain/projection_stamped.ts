/** The stamps in the row of a defect, and what they are made over. */

import type { Related } from './projection_related';
import {
  holding,
  type Overtaken,
  overtaken,
  type Stamp,
  stampedIds,
  stampList,
  stampOf,
} from './stamps';
import type { Values } from './values';
import { actOf } from './verdicts';

export interface ShownStamp {
  entry: string;
  act: string;
  number: string;
  person: string;
  date: string;
  /** Why it does not hold; null where it does. */
  overtaken: Overtaken | null;
  holds: boolean;
}

/** The ids a stamp on the record is made over. */
export function idsToStamp(values: Values, related: Related): Set<string> {
  const { photographs, marks, scales, measurements, lines } = related;
  const others = {
    ...{ photograph: photographs, mark: marks, scale: scales, measurement: measurements },
    rivet_line: lines,
  };
  const ids = Object.entries(others).flatMap(([kind, records]) =>
    Object.values(records).map((one) => stampedIds(kind, one)),
  );
  return new Set([stampedIds('defect', values), ...ids].flatMap((some) => [...some]));
}

/** Those of them that a stamp of release 1 is not made over: scales and lengths, and what says of a
photograph no more than lamp and zoom. */
export function idsOnPictures({ scales, measurements, photographs }: Related): Set<string> {
  const stamped = (kind: string, records: Related['scales']) =>
    Object.values(records).flatMap((one) => [...stampedIds(kind, one)]);
  const lamps = Object.values(photographs).flatMap((one) =>
    Object.entries(one).filter(([, fields]) => isAfterRelease1(Object.keys(fields))),
  );
  const lying = [...stamped('scale', scales), ...stamped('measurement', measurements)];
  return new Set([...lying, ...lamps.map(([id]) => id)]);
}

const AFTER_RELEASE_1 = ['light', 'zoom'];
const isAfterRelease1 = (fields: string[]) =>
  fields.length > 0 && fields.every((field) => AFTER_RELEASE_1.includes(field));

/** The stamps that stand on a record. */
export function stampsOn(record: string, related: Related): Stamp[] {
  const made = related.stamps.map(([entry]) => entry);
  return related.stamps
    .filter(([entry, verdict]) => verdict.result === 'counts' && entry.kind === 'stamp')
    .map(([entry]) => entry)
    .filter((entry) => entry.set.defect === record && !related.withdrawn.has(actOf(entry)))
    .map((entry) => stampOf(entry, made));
}

/** The stamps, those by which a clearance holds first, each with why it does not. */
export function stampKeys(
  stamps: readonly Stamp[],
  ids: readonly [Set<string>, Set<string>],
  independent: boolean,
) {
  const all = [...stamps].sort((a, b) => (a.id < b.id ? -1 : 1));
  const lead = holding(all, stampList(ids[0]), independent);
  const ordered = [...lead, ...all.filter((one) => !lead.includes(one))];
  const shown = ordered.map((one) => {
    const { id, act, number, person, date } = one;
    const why = overtaken(one, ...ids);
    return { entry: id, act, number, person, date, overtaken: why, holds: why === null };
  });
  return { stamps: shown };
}
