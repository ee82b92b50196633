/** The row of a defect: what lists, screens and reports show of it, derived from what stands. */

import type { Entry } from '@sync/entry';
import type { Standing } from '@sync/standing';
import { isMove } from './fields';
import type { Compiled, Fired, Standard } from './grading';
import { kindWords } from './kinds';
import { ACCEPT } from './moves';
import {
  type Definition,
  isGone,
  isOff,
  type Place,
  placeWords,
  stationOf,
  stationWords,
  zoneOf,
  zonesOf,
} from './place';
import { gradeKeys, type NotCounting, noGrades } from './projection_graded';
import type { Related } from './projection_related';
import {
  idsOnPictures,
  idsToStamp,
  type ShownStamp,
  stampKeys,
  stampsOn,
} from './projection_stamped';
import { compare, isUnmeasured, type Quantity, tenthNmOrNull } from './quantities';
import { byNumber, headOf } from './same_as';
import { standingFigures } from './scale_struck';
import { type Stamp, type StampList, stampList } from './stamps';
import { type StandingState, standingState } from './states';
import {
  byNature,
  copiedIn,
  differing,
  settledValue,
  standingOf,
  twoValues,
  type Values,
} from './values';
import { actOf, type Fields, isFields, type Pair, stateOf, type Verdict } from './verdicts';

export type { NotCounting, ShownStamp };

export interface DefectRow {
  record: string;
  number: string | null;
  also_numbers: string[];
  number_shared: boolean;
  state: string | null;
  states: string[];
  own_state: string | null;
  left_from: string | null;
  same_as: string | null;
  same_as_all: string[];
  same_as_number: string | null;
  choose_lead: boolean;
  grade: number | null;
  grade_known: boolean;
  grade_words: string;
  deciding: string;
  fired: Fired[];
  missing: string[];
  overruled: { from: number | null; from_words: string; to: number } | null;
  place: Place | null;
  zone: string | null;
  zones: string[];
  structure: string | null;
  hand: string | null;
  member: string | null;
  strakes: string[] | null;
  station: string | null;
  station_text: string | null;
  place_words: string;
  airframe: string | null;
  kind: string | null;
  kind_words: string;
  material: string | null;
  part: string | null;
  independent: boolean;
  stage: string | null;
  disposition: string | null;
  deferral: Fields | null;
  look_again_by: string | null;
  look_again: Fields | null;
  graded_by: string | null;
  raised_on: string | null;
  raised_by: string | null;
  cleared_on: string | null;
  length: Quantity | null;
  /** Fields of which only a figure copied from another record stands: not measured here. */
  copied: string[];
  note: string | null;
  tag: string | null;
  stamps: ShownStamp[];
  stamps_hold: boolean | null;
  two_values: string[];
  photographs: number;
  waits: NotCounting[];
  not_counting: NotCounting[];
}

/** The row of a defect, the same on tablet and server.

Until somebody chooses between two values the worse counts: the highest grade of all combinations,
the least finished state, every place, the earliest stage and date. A document that is not here
leaves what it would say empty. */
export function defectRow(
  record: string,
  { values }: Standing,
  related: Related,
  definition: Definition | null,
  standard: Standard | Compiled | null,
): DefectRow {
  const mine = stampsOn(record, related);
  const ids = idsToStamp(values, related);
  const now = stampList(ids);
  const [state, head, left] = stateIn(record, values, related, mine, now);
  const photographs = Object.values(related.photographs);
  const { measured, told } = standingFigures(values, related);
  const shown = (result: string) =>
    related.entries.filter(([, verdict]) => verdict.result === result).map(notCounting);
  return {
    record,
    ...numbers(values, related),
    ...stateKeys(state, head, left, values, related),
    ...gradeKeys(measured, related.lines, standard),
    ...placeKeys(values, definition),
    ...decided(values, state, related),
    ...raised(related),
    cleared_on: clearedOn(state, related),
    ...noted(measured),
    ...stampKeys(mine, [ids, idsOnPictures(related)], isTrue(values, 'independent')),
    stamps_hold: state.holds,
    two_values: twoValues('defect', values),
    photographs: photographs.filter((one) => !isTrue(one, 'withheld')).length,
    waits: shown('waits'),
    not_counting: [...shown('does not count'), ...noGrades(values), ...told],
  };
}

const isTrue = (values: Values, field: string) => standingOf(values, field).includes(true);
const textOf = (value: unknown): string | null => (typeof value === 'string' ? value : null);
const texts = (values: readonly unknown[]) => values.filter((one) => typeof one === 'string');

function notCounting([entry, { code, reason }]: Pair): NotCounting {
  return { entry: entry.id, code, reason };
}

/** The state, the record that leads, and the state it counts in where none does. */
function stateIn(
  record: string,
  values: Values,
  related: Related,
  stamps: readonly Stamp[],
  now: StampList,
): [StandingState, string | null, string | null] {
  const moves = related.entries.filter(([entry]) => isMove(entry));
  const alone = standingState(values, moves, stamps, now, false);
  if (alone.own !== 'Same as') return [alone, null, null];
  const targets = texts(differing('defect', values, 'same_as'));
  const number = textOf(settledValue('defect', values, 'number')) ?? '';
  const own = { [record]: { number, state: alone.own, targets, left: alone.state } };
  const head = headOf(record, { ...related.others, ...own });
  if (head === null || head === record) return [alone, head, alone.state];
  return [standingState(values, moves, stamps, now, true), head, alone.state];
}

function numbers(values: Values, related: Related) {
  const standing = texts(differing('defect', values, 'number')).sort(byNumber);
  const before = related.entries
    .filter(([entry]) => !related.withdrawn.has(actOf(entry)))
    .map(([entry]) => entry.set.number);
  const [number = null] = standing;
  const also = [...new Set([...texts(before), ...standing])].filter((one) => one !== number);
  return { number, also_numbers: also.sort(byNumber), number_shared: related.number_shared };
}

function stateKeys(
  state: StandingState,
  head: string | null,
  left: string | null,
  values: Values,
  related: Related,
) {
  const targets = texts(differing('defect', values, 'same_as'));
  const isAside = state.own === 'Same as';
  const lead = head ?? (targets.length === 1 ? (targets[0] as string) : null);
  const other = lead !== null && Object.hasOwn(related.others, lead) ? related.others[lead] : null;
  return {
    state: state.state,
    states: [...state.states],
    own_state: state.own,
    left_from: left,
    same_as: isAside ? lead : null,
    same_as_all: isAside ? targets : [],
    same_as_number: isAside && other ? other.number : null,
    choose_lead: isAside && head === null,
  };
}

function placeKeys(values: Values, definition: Definition | null) {
  const places = differing('defect', values, 'place').filter(isFields) as unknown as Place[];
  const place = places[0] ?? null;
  const zones = places.flatMap((one) => said(zonesOf, definition, one) ?? []);
  const told = places.filter(
    (one) => isOff(one) || said(stationOf, definition, one) || said(isGone, definition, one),
  );
  const words = told.map((one) => said(placeWords, definition, one));
  return {
    place,
    zone: said(zoneOf, definition, place),
    zones: [...new Set(zones)].sort(),
    structure: place?.structure ?? null,
    hand: place?.hand ?? null,
    member: place?.member ?? null,
    strakes: (place?.strakes as string[] | undefined) ?? null,
    station: said(stationOf, definition, place)?.value ?? null,
    station_text: said(stationWords, definition, place),
    place_words: words.filter((one) => one).join(' or '),
  };
}

/** What a definition says of a place; nothing where it can't say. */
function said<T>(
  ask: (definition: Definition, place: Place) => T,
  definition: Definition | null,
  place: Place | null,
): T | null {
  if (definition === null || place === null) return null;
  try {
    return ask(definition, place);
  } catch {
    // A place may hold anything: another tablet's version, or no place at all.
    return null;
  }
}

function decided(values: Values, state: StandingState, related: Related) {
  const kinds = differing('defect', values, 'kind');
  const deferrals = standingOf(values, 'deferral').filter(isFields);
  const dates = texts(deferrals.map((one) => one.look_again_by)).sort();
  const disposition = textOf(settledValue('defect', values, 'disposition'));
  const deferral = settledValue('defect', values, 'deferral');
  const isAccepted = disposition === null && isNil(state, values, related);
  return {
    airframe: textOf(settledValue('defect', values, 'airframe')),
    kind: kinds.length === 1 ? textOf(kinds[0]) : null,
    kind_words: texts(kinds).map(kindWords).join(' or ') || kindWords(null),
    material: textOf(settledValue('defect', values, 'material')),
    part: textOf(settledValue('defect', values, 'part')),
    independent: isTrue(values, 'independent'),
    stage: texts(standingOf(values, 'stage')).sort(byNature)[0] ?? null,
    disposition: isAccepted ? ACCEPT : disposition,
    deferral: isFields(deferral) ? deferral : null,
    look_again_by: state.states.includes('Deferred') ? (dates[0] ?? null) : null,
    look_again: lookAgain(values),
    graded_by: gradedBy(values),
  };
}

/** The issue of the standard that is pinned: "QS-7 issue 1"; nothing where two stand. */
function gradedBy(values: Values): string | null {
  const pin = settledValue('defect', values, 'standard');
  if (!isFields(pin)) return null;
  const { name, issue } = pin;
  return typeof name === 'string' && typeof issue === 'string' ? `${name} issue ${issue}` : null;
}

/** What an inspector was asked to look at again; nothing once it is answered. */
function lookAgain(values: Values): Fields | null {
  const asked = standingOf(values, 'look_again').filter(isFields);
  return asked.find(({ answer }) => typeof answer !== 'string' || answer === '') ?? null;
}

/** Whether a record was cleared as nil, which sets its disposition by itself. */
function isNil(state: StandingState, values: Values, related: Related): boolean {
  const nil = related.entries.filter(([entry]) => stateOf(entry).move === 'nil');
  const stands = nil.some(([entry]) => Object.hasOwn(values[entry.id] ?? {}, 'state'));
  return state.state === 'Cleared' && stands;
}

function raised(related: Related) {
  const isRaise = (entry: Entry) => ['raise', 'nil'].includes(String(stateOf(entry).move));
  const made = related.entries
    .filter(([entry, verdict]) => counts(entry, verdict, related) && isRaise(entry))
    .map(([entry]) => entry)
    .sort((a, b) => (a.id < b.id ? -1 : 1));
  const [first] = made;
  return { raised_on: first ? related.day(first) : null, raised_by: first?.by ?? null };
}

/** The day a record that is cleared was cleared last. */
function clearedOn(state: StandingState, related: Related): string | null {
  const made = related.entries
    .filter(([entry, verdict]) => counts(entry, verdict, related))
    .filter(([entry]) => stateOf(entry).to === 'Cleared')
    .map(([entry]) => entry)
    .sort((a, b) => (a.id < b.id ? -1 : 1));
  const last = made.at(-1);
  return last && state.state === 'Cleared' ? related.day(last) : null;
}

/** The longest length measured, what was only copied, every note, and the tag. */
function noted(values: Values) {
  const standing = standingOf(values, 'length').filter((one) => !isUnmeasured(one));
  const lengths = standing.filter((one) => tenthNmOrNull(one) !== null);
  const longest = lengths.reduce<unknown>(
    (one, other) => (one !== null && compare(other, one) <= 0 ? one : other),
    null,
  );
  return {
    length: longest as Quantity | null,
    copied: copiedIn('defect', values),
    note: texts(differing('defect', values, 'note')).join('; ') || null,
    tag: textOf(settledValue('defect', values, 'tag')),
  };
}

function counts(entry: Entry, verdict: Verdict, related: Related): boolean {
  return isMove(entry) && verdict.result === 'counts' && !related.withdrawn.has(actOf(entry));
}
