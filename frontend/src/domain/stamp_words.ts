/** What is said of stamps that were overtaken: which, why, and what to do. */

import { stateWords } from './moves';
import type { DefectRow } from './projection';
import { FIRST, type Overtaken } from './stamps';

/** Beside a stamp, by why it does not hold. */
export const SHORT: Readonly<Record<Overtaken, string>> = {
  changed: 'record changed since',
  measured: 'scale, length or lamp changed since',
  lengths: 'made without scales and lengths',
  less: 'made over less than stood',
};
const WHY: Readonly<Record<Overtaken, string>> = {
  changed: 'the record was changed after it',
  measured: 'a scale, a length or the lamp of a photograph was written or struck after it',
  lengths:
    'it was made without the scales, lengths or lamps of the photographs, ' +
    'which that page or tablet did not have',
  less: 'it covers less than stood, for that page or tablet did not have the rest',
};
const SECOND =
  'An independent inspection is asked for, and no second person has stamped over what stands. ' +
  'A second person inspects and stamps.';
const OTHER =
  "Who stamped over what stands can't clear it: not who did the work, nor one person twice. " +
  'Somebody else inspects and stamps.';
const NONE = 'No stamp by which it was cleared counts any more. Decide or inspect, and stamp.';
const DECIDED = 'Where it was accepted by a decision: decide and stamp again.';

type Stamps = Pick<DefectRow, 'stamps' | 'stamps_hold' | 'state' | 'independent'>;

/** What is said beside a stamp that does not hold, nothing of one that does. */
export function shortWords({ overtaken }: { overtaken?: Overtaken | null }): string {
  return overtaken ? SHORT[overtaken] : '';
}

/** Why a record that was cleared is not, nothing where its stamps hold: a sentence with the stamp
that was overtaken last and what to do. */
export function overtakenWords(row: Stamps): string {
  if (row.stamps_hold !== false) return '';
  const until = `Until then the record counts as ${stateWords(row.state ?? '')}.`;
  if (isInspected(row)) return `${heldWords(row)} ${until}`;
  const last = lastPassed(row);
  if (!last) return `${NONE} ${until}`;
  const named = `${last.act} stamp ${last.number} of ${last.date}`;
  const todo = last.act === 'DISPOSITION' ? 'Decide and stamp' : 'Inspect and stamp';
  return `${named} does not hold: ${WHY[last.overtaken ?? 'changed']}. ${todo} again. ${until}`;
}

/** The newest stamp by which a record that was cleared is not; null where an inspection holds. */
export function lastOvertaken(row: Stamps): DefectRow['stamps'][number] | null {
  return row.stamps_hold !== false || isInspected(row) ? null : lastPassed(row);
}

function lastPassed({ stamps }: Stamps): DefectRow['stamps'][number] | null {
  const passed = stamps.filter(({ holds }) => !holds);
  return passed.sort((a, b) => (a.entry < b.entry ? 1 : -1))[0] ?? null;
}

function isInspected({ stamps }: Stamps): boolean {
  return stamps.some(({ holds, act }) => holds && FIRST.includes(act));
}

/** Why an inspection that holds does not clear a record. */
function heldWords({ stamps, independent }: Stamps): string {
  const hasSecond = stamps.some(({ holds, act }) => holds && act === 'INDEPENDENT');
  const words = independent && !hasSecond ? SECOND : OTHER;
  const isDecided = stamps.some(({ holds, act }) => !holds && act === 'DISPOSITION');
  return isDecided ? `${words} ${DECIDED}` : words;
}
