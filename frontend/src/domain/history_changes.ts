/** How a history tells that a value took the place of others: corrected, measured again, chosen. */

import type { Entry } from '@sync/entry';
import CORRECTIONS from '@tables/corrections.json';
import { TAKEN_BACK } from './change_reasons';
import type { Moment } from './days';
import { isQuantity, isWithdrawn, unmeasuredWords } from './quantities';
import { isFields } from './verdicts';

const DRAWN = 'drawing figure';

/** Reasons that say by themselves whether what stood before was wrong. */
const REASONS: ReadonlyMap<string, boolean> = new Map([
  ...CORRECTIONS.reasons.map(({ why, corrects }) => [why, corrects] as const),
  [TAKEN_BACK, true],
]);
const MARKS = ['\ue000', '\ue001'] as const;

/** A value as an entry wrote it, and how it is read. */
export interface Written {
  entry: Entry;
  value: unknown;
  words: string;
}

/** The clause that tells what a value replaced, null where it replaced nothing.

*Corrected* is what the same person typed anew on the same day and tablet, by the same method and
instrument, or for a reason that says so; the old value is marked `struck`. A figure that came otherwise is a measurement of its own: *measured again*. What is no
figure is *changed*. One of several values that stood is *chosen*. */
export function changeWords(
  label: string,
  made: Written,
  before: readonly Written[],
  moment: Moment,
): string | null {
  const said = [...new Set(before.map(({ words }) => words).filter(Boolean))];
  const was = said.join(' and ');
  const { value, words } = made;
  if (!was) return null;
  if (said.length > 1 && said.includes(words)) return `${label} ${words} chosen from ${was}`;
  if (isMeasured(value) && !before.some((old) => isMeasured(old.value)))
    return `${label}, before ${was}, measured as ${words}${withWords(value)}`;
  if (isWithdrawn(value)) return `${label} ${struck(was)} withdrawn with its scale`;
  const is_again = !before.some((old) => isSameCapture(made, old, moment));
  if (was === words) {
    const is_told = is_again && isMeasured(value);
    return is_told ? `${label} measured again, ${was} as before${withWords(value)}` : null;
  }
  const how = howWords(made, is_again);
  const shown = how === 'measured again as' ? was : struck(was);
  return `${label} ${shown} ${how} ${words}${is_again ? withWords(value) : ''}`;
}

/** Marks words as the old value, to be shown struck through. */
export const struck = (words: string): string => `${MARKS[0]}${words}${MARKS[1]}`;

/** Words in which nothing is marked, whatever was typed. */
export const withoutMarks = (words: string): string =>
  words.replaceAll(MARKS[0], '').replaceAll(MARKS[1], '');

/** The parts of a sentence, each with whether it is struck through. */
export function partsOf(marked: string): [words: string, struck: boolean][] {
  const every = marked.split(/\ue000([^\ue001]*)\ue001/);
  return every
    .map((words, at): [string, boolean] => [words, at % 2 === 1])
    .filter(([words]) => words !== '');
}

function howWords({ value }: Written, is_again: boolean): string {
  if (!is_again) return 'corrected to';
  return isMeasured(value) ? 'measured again as' : 'changed to';
}

/** Whether a value is a figure that was measured where it is written. */
export function isMeasured(value: unknown): boolean {
  return isQuantity(value) && isFields(value) && !unmeasuredMethod(value);
}

/** How a figure came that nobody measured there: from a drawing, copied; else nothing. */
export function unmeasuredMethod(value: unknown): string {
  if (isFields(value) && value.method === DRAWN) return DRAWN;
  return unmeasuredWords(value);
}

function isSameCapture(made: Written, old: Written, moment: Moment): boolean {
  const said = REASONS.get(made.entry.why ?? '');
  if (said !== undefined) return said;
  const [one, other] = [made.entry, old.entry];
  return (
    one.by === other.by &&
    one.device === other.device &&
    moment(one)[0] === moment(other)[0] &&
    String(meansOf(made.value)) === String(meansOf(old.value))
  );
}

/** Method and instrument of a figure, empty where it has none. */
function meansOf(value: unknown): [method: string, instrument: string] {
  const { method, instrument } = isFields(value) ? value : {};
  return [
    typeof method === 'string' ? method : '',
    typeof instrument === 'string' ? instrument : '',
  ];
}

/** The instrument of a measurement, else its method, as the end of a clause. */
function withWords(value: unknown): string {
  if (!isMeasured(value)) return '';
  const [method, instrument] = meansOf(value);
  const named = instrument || method;
  return named ? ` with ${named}` : '';
}
