/** The history of a record as sentences: what was done, by whom, where, and why. */

import type { Entry } from '@sync/entry';
import { type Moment, momentStamped } from './days';
import { FIELDS, fieldOf, isMove } from './fields';
import {
  changeWords,
  partsOf,
  struck,
  unmeasuredMethod,
  type Written,
  withoutMarks,
} from './history_changes';
import { pictureWords } from './history_pictures';
import { isGrade, kindWords } from './kinds';
import { stateWords } from './moves';
import type { Place } from './place_stations';
import { isOff, offWords } from './place_words';
import { figureText, isQuantity } from './quantities';
import { fitWords } from './same_view_words';
import { actOf, type Fields, isFields, type Pair, stateOf, type Verdict } from './verdicts';

/** By id what people and records are called: "Inspector 1 (11)", "A/0002". */
export type Names = Readonly<Record<string, string>>;

export interface HistoryLine {
  /** Day and time of day in the workshop: "2025-11-03", "10:14". */
  date: string;
  time: string;
  sentence: string;
  /** The sentence where a value was corrected or changed: words, and whether struck through. */
  parts?: [words: string, struck: boolean][];
  entry: string;
  counts: boolean;
}

const LETTER = /^[A-Z]{1,2}$/;
const MOVED: Names = {
  new: 'Begun',
  raise: 'Raised',
  assess: 'Assessed',
  start: 'Work started',
  offer: 'Offered for inspection',
  clear: 'Cleared',
  accept: 'Accepted as is and cleared',
  nil: 'Looked at, nothing found',
  reject: 'Rejected, back in work',
  're-assess': 'Taken back to be assessed again',
  defer: 'Deferred',
  'found again': 'Found again',
  'raised in error': 'Marked raised in error',
};
/** Fields of a photograph that say nothing to a reader. */
const SILENT: readonly string[] = [
  'sha256',
  'size_bytes',
  'media_type',
  'width_px',
  'height_px',
  'taken',
  'source',
];

/** How a sentence leads to the record a field names. */
const POINTING: Names = {
  airframe: 'for airframe',
  defect: 'of defect',
  photograph: 'on photograph',
  repeat_of: 'same view as photograph',
  same_as: 'same as',
  survey: 'in survey',
};

/** Records that are called by a word which needs brackets: a photograph by its role. */
const BRACKETED = ['photograph', 'repeat_of'];

/** What a sentence is told from: the entries of the history by id, names, moments. */
interface Told {
  byId: ReadonlyMap<string, Entry>;
  names: Names;
  moment: Moment;
}

/** A record's history, oldest first.

`entries`: the entries of the record, and of its photographs, marks and stamps, with verdicts.
`moment`: day and time of an entry in the workshop. `withdrawn`: the acts that were undone. */
export function history(
  entries: Iterable<Pair>,
  names: Names,
  moment: Moment = momentStamped,
  withdrawn: ReadonlySet<string> = new Set(),
): HistoryLine[] {
  const pairs = [...entries].sort(([a], [b]) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  const byId = new Map(pairs.map(([entry]) => [entry.id, entry]));
  const told: Told = { byId, names, moment };
  return pairs.map(([entry, verdict]) => {
    const isUndone = withdrawn.has(actOf(entry));
    const [date, time] = moment(entry);
    return {
      date,
      time,
      ...inParts(sentence(entry, told) + after(verdict, isUndone)),
      entry: entry.id,
      counts: verdict.result === 'counts' && !isUndone,
    };
  });
}

function inParts(marked: string): Pick<HistoryLine, 'sentence' | 'parts'> {
  const parts = partsOf(marked);
  const said = { sentence: withoutMarks(marked) };
  return parts.some(([, isStruck]) => isStruck) ? { ...said, parts } : said;
}

function after({ result, reason }: Verdict, isUndone: boolean): string {
  if (result === 'does not count') return ` Does not count: ${reason}`;
  if (result === 'waits') return ` ${reason}`;
  return isUndone ? ' Undone since.' : '';
}

function sentence(entry: Entry, told: Told): string {
  const clauses = clausesOf(entry, told).filter((clause) => clause !== '');
  const what = clauses.join('; ') || 'Nothing written';
  const where = LETTER.test(entry.device) ? `tablet ${entry.device}` : 'a desk';
  const why = entry.why ? `: ${withoutMarks(entry.why).replace(/\.+$/, '')}` : '';
  const said = what.slice(0, 1).toUpperCase() + what.slice(1);
  return `${said} by ${nameIn(told.names, entry.by)}, ${where}${why}.`;
}

const nameIn = (names: Names, id: string): string =>
  Object.hasOwn(names, id) ? (names[id] as string) : id;

function clausesOf(entry: Entry, told: Told): string[] {
  const { kind, set } = entry;
  const { names } = told;
  if (kind === 'stamp') return [`stamped ${typeof set.act === 'string' ? set.act : ''}`.trim()];
  const onPicture = pictureWords(entry, recordWords('photograph', set.photograph, names));
  if (onPicture !== null) return [onPicture];
  if (kind === 'photograph' && typeof set.sha256 === 'string')
    return [typeof set.role === 'string' ? `photograph added (${set.role})` : 'photograph added'];
  const fields = Object.keys(set)
    .filter((field) => field !== 'state' || kind !== 'defect')
    .filter((field) => kind !== 'photograph' || !SILENT.includes(field))
    .filter((field) => field !== 'same_as' || stateOf(entry).move !== 'same as')
    .sort(byTable(kind));
  const moved = isMove(entry) ? [moveWords(entry, names)] : [];
  return [...moved, ...fieldWords(entry, fields, told)];
}

function moveWords(entry: Entry, names: Names): string {
  const { move, to } = stateOf(entry);
  const end = typeof to === 'string' ? stateWords(to) : 'nothing';
  if (move === 'undo') return `undone, back to ${end}`;
  if (move === 'back') return `taken back to ${end}`;
  if (move === 'choose') return `${end} chosen`;
  const other = recordWords('same_as', entry.set.same_as, names) || 'another record';
  if (move === 'same as') return `found to be the same as ${other}`;
  const word = String(move);
  return Object.hasOwn(MOVED, word) ? (MOVED[word] as string) : `moved to ${end}`;
}

/** Puts fields in the order of the field table, others after them. */
function byTable(kind: string): (a: string, b: string) => number {
  const order = Object.keys(Object.hasOwn(FIELDS, kind) ? (FIELDS[kind] as object) : {});
  const at = (field: string) => (order.includes(field) ? order.indexOf(field) : order.length);
  return (a, b) => at(a) - at(b) || (a < b ? -1 : a > b ? 1 : 0);
}

/** What was written, together, and each change by itself. */
function fieldWords(entry: Entry, fields: string[], told: Told): string[] {
  const written: string[] = [];
  const changed: string[] = [];
  for (const field of fields) {
    const label = labelOf(entry.kind, field);
    const value = entry.set[field];
    const words = said(entry.kind, field, value, told.names);
    const old = before(entry, field, told);
    const was = [...new Set(old.map((one) => one.words).filter(Boolean))].join(' and ');
    if (!words) continue;
    const answer = answered(field, value, old);
    const change = changeWords(label, { entry, value, words }, old, told.moment);
    if (value === null)
      changed.push(was ? `${label} ${struck(was)} taken back` : `${label} taken back`);
    else if (answer) changed.push(answer);
    else if (change !== null) changed.push(change);
    else written.push(named(label, words));
  }
  return [written.join(', '), ...changed];
}

/** The answer to a question that stood open, the question itself as it was told. */
function answered(field: string, value: unknown, before: readonly Written[]): string {
  const answer = answerIn(value);
  if (field !== 'look_again' || !answer || before.length === 0) return '';
  return before.some((old) => answerIn(old.value)) ? '' : `answered: ${answer}`;
}

function answerIn(value: unknown): string {
  const answer = isFields(value) ? value.answer : null;
  return typeof answer === 'string' ? withoutStop(withoutMarks(answer)) : '';
}

/** A value as part of a sentence, empty where it names a record not known here. */
function said(kind: string, field: string, value: unknown, names: Names): string {
  const isRecord = fieldOf(kind, field)?.type === 'record' && value !== null;
  if (isRecord) return recordWords(field, value, names);
  const words = withoutStop(withoutMarks(valueWords(kind, field, value, names)));
  const method = isQuantity(value) ? unmeasuredMethod(value) : '';
  return method ? `${words} (${method})` : words;
}

const withoutStop = (words: string): string => words.replace(/[. ]+$/, '');

/** What a record is called that a field names, empty where it is not known here. */
function recordWords(field: string, value: unknown, names: Names): string {
  const name = typeof value === 'string' && Object.hasOwn(names, value) ? names[value] : '';
  return name && BRACKETED.includes(field) ? `(${name})` : (name ?? '');
}

/** The values that an entry saw and took the place of. */
function before(entry: Entry, field: string, { byId, names }: Told): Written[] {
  const ids = Object.hasOwn(entry.seen, field) ? (entry.seen[field] ?? []) : [];
  return ids
    .flatMap((id) => byId.get(id) ?? [])
    .filter((one) => one.record === entry.record && Object.hasOwn(one.set, field))
    .filter((one) => one.set[field] !== null)
    .map((one) => {
      const value = one.set[field];
      return { entry: one, value, words: said(entry.kind, field, value, names) };
    });
}

/** "to Stage 4" of the label "to stage": no word stands twice. */
function named(label: string, words: string): string {
  const all = label.split(' ');
  const [first] = words.split(' ');
  const is_twice = all.at(-1)?.toLowerCase() === first?.toLowerCase();
  return [...(is_twice ? all.slice(0, -1) : all), words].join(' ');
}

function labelOf(kind: string, field: string): string {
  const row = fieldOf(kind, field);
  if (row?.type === 'record' && Object.hasOwn(POINTING, field)) return POINTING[field] as string;
  const label = row?.label ?? field.replaceAll('_', ' ');
  return label.slice(0, 1).toLowerCase() + label.slice(1);
}

/** A value as it is read: "0.011 in", "yes", "pitting". */
export function valueWords(kind: string, field: string, value: unknown, names: Names): string {
  if (value === null || value === undefined) return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (isQuantity(value)) return figureText(value);
  if (typeof value === 'string')
    return field === 'kind' ? kindWords(value).toLowerCase() : nameIn(names, value);
  if (Array.isArray(value)) return value.map((one) => valueWords(kind, '', one, names)).join(', ');
  if (!isFields(value)) return String(value);
  const words = mappingWords(kind, value, names);
  return field === 'overrule' && !isGrade(value.grade) ? `${words} (no grade: ignored)` : words;
}

function mappingWords(kind: string, value: Fields, names: Names): string {
  if (isOff(value as Partial<Place>)) return offWords(value as unknown as Place);
  if ('member' in value) return placeText(value);
  if ('turn_deg' in value) return fitWords(value);
  if ('issue' in value)
    return `${valueWords(kind, '', value.name ?? '', names)} issue ${valueWords(kind, '', value.issue, names)}`.trim();
  return Object.keys(value)
    .sort()
    .filter((key) => key !== 'sha256')
    .map((key) =>
      withoutStop(named(key.replaceAll('_', ' '), partWords(kind, key, value[key], names))),
    )
    .join(', ');
}

function partWords(kind: string, key: string, value: unknown, names: Names): string {
  if (key === 'photograph') return recordWords(key, value, names);
  return valueWords(kind, '', value, names);
}

function placeText(place: Fields): string {
  const { strakes, to, layer } = place;
  const words = [...texts(place, 'structure', 'hand'), ...endWords(place)];
  const end = isFields(to) ? endWords(to) : [];
  if (end.length > 0) words.push('to', ...end);
  if (Array.isArray(strakes)) {
    const named = strakes.filter((strake) => typeof strake === 'string' && strake);
    words.push([...new Set(named)].join('–'));
  }
  if (Number.isInteger(layer)) words.push(`sheet ${layer}`);
  return words.filter(Boolean).join(' ');
}

function endWords(end: Fields): string[] {
  const { offset } = end;
  const distance = isQuantity(offset) ? [`+ ${offset.value} ${offset.unit}`] : [];
  return [...texts(end, 'member'), ...distance];
}

function texts(value: Fields, ...keys: string[]): string[] {
  return keys
    .map((key) => value[key])
    .filter((word): word is string => !!word && typeof word === 'string');
}
