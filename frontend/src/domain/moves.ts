/** What a move needs: each need of the table as a question to what its author had seen. */

import type { Entry } from '@sync/entry';
import { GRADING_FIELDS, stampedFields } from './fields';
import { lineInputs } from './grading_line';
import { DISPOSITIONS } from './kinds';
import { type Row, rowsFrom } from './permissions';
import { tenthNmOrNull } from './quantities';
import { type Look, statesOf } from './seen';
import { clears, FIRST, isSecond, type Stamp, stampList, stampOf } from './stamps';
import { type Fields, isFields, Missing, stateOf, writerOf } from './verdicts';

export const ACCEPT = 'Accept as is';
const AFTER_WORK = 'after work';

/** A code and a sentence that say why an entry does not count. */
export type Fault = readonly [code: string, reason: string];

/** A standard's file must come before a move can be judged. */
export class FileMissing extends Missing {
  readonly files: readonly string[];

  constructor(sha256s: Iterable<string>) {
    super();
    this.files = [...sha256s].sort();
  }
}

/** A state in full. */
export function stateWords(state: string): string {
  return state === 'Offered' ? 'Offered for inspection' : state;
}

/** The fields whose standing ids a move should name in `seen` so that it can count. */
export function fieldsToSee(move: string): string[] {
  const asked: Record<string, readonly string[]> = {
    raise: ['number', 'place', 'kind', 'no_photograph'],
    assess: ['disposition', 'reason'],
    offer: ['disposition', 'evidence'],
    clear: ['independent'],
    accept: [...GRADING_FIELDS, 'disposition', 'standard', 'authority'],
    nil: ['number', 'place', 'kind'],
    defer: ['deferral'],
    'same as': ['same_as'],
    choose: [...stampedFields('defect')].sort(),
  };
  return ['state', ...(asked[move] ?? [])];
}

/** Why a move does not count, null where it does. */
export function moveFault(look: Look, entry: Entry, role: string): Fault | null {
  const { move, to } = stateOf(entry);
  if (typeof move !== 'string' || (to !== null && to !== undefined && typeof to !== 'string'))
    return ['shape', 'The state is no move with its result.'];
  const before = look.named(entry, 'state');
  const states = [...statesOf(before)].sort();
  const rows = rowsFrom(move, states);
  const seen = states.map(stateWords).join(' and ') || 'nothing';
  if (rows.length === 0)
    return ['not open', `'${move}' does not lead from ${seen}, which its author had seen.`];
  const row = rows.find((one) => one.who.includes(role));
  if (row === undefined)
    return ['role', `'${move}' from ${seen} is not for the role ${role.replaceAll('_', ' ')}.`];
  return wrongEnd(look, entry, before, row) ?? unmet(look, entry, row);
}

function wrongEnd(look: Look, entry: Entry, before: Entry[], row: Row): Fault | null {
  if (row.move === 'undo') return undoFault(look, entry, before);
  const to = stateOf(entry).to ?? null;
  let ends = new Set([row.to]);
  if (row.move === 'choose') ends = statesOf(before);
  else if (row.move === 'back') ends = look.left(before, row.from[0] as string);
  if (typeof to === 'string' && ends.has(to)) return null;
  const wanted = [...ends].sort().map(stateWords).join(' or ') || 'nothing';
  return ['wrong end', `'${row.move}' leads to ${wanted}, not to ${to || 'nothing'}.`];
}

function undoFault(look: Look, entry: Entry, before: Entry[]): Fault | null {
  const latest = look.notUndone(before);
  const [move] = latest;
  const { undoes, to } = stateOf(entry);
  if (move === undefined || latest.length > 1 || move.id !== undoes)
    return ['not latest', 'Only the latest move not yet undone can be undone.'];
  if (move.by !== entry.by || writerOf(move) !== writerOf(entry))
    return ['not own', 'Only who made a move can undo it, before the app was started again.'];
  const [left = null, other] = statesOf(look.named(move, 'state'));
  if (other !== undefined)
    return ['a choice', "A choice can't be undone: it left more than one state."];
  if ((to ?? null) !== left)
    return ['wrong end', `Undo leads to ${left ?? 'nothing'}, not to ${to || 'nothing'}.`];
  return null;
}

function unmet(look: Look, entry: Entry, row: Row): Fault | null {
  for (const need of row.needs) {
    if (NEEDS[need]?.(look, entry)) continue;
    if (need === 'evidence') return ['needs', evidenceSentence(look, entry)];
    return ['needs', `'${row.move}' needs ${NEED_WORDS[need] ?? `a ${need}`}; it names none.`];
  }
  return null;
}

type Need = (look: Look, entry: Entry) => boolean;

const given =
  (field: string): Need =>
  (look, entry) =>
    look
      .values(entry, field)
      .some((value) => value !== '' && !(isFields(value) && Object.keys(value).length === 0));

const all =
  (field: string, wanted: string): Need =>
  (look, entry) => {
    const values = look.values(entry, field);
    return values.length > 0 && values.every((value) => value === wanted);
  };

/** Whether a value is a text that says something. */
export function isText(value: unknown): value is string {
  return typeof value === 'string' && value !== '';
}

const why: Need = (_, entry) => isText(entry.why) || isText(entry.set.reason);
const isAsked: Need = (look, entry) => look.values(entry, 'independent').includes(true);

/** The photographs of the record that the act brings or relies on. */
export function photographs(look: Look, entry: Entry): Entry[] {
  return look.relied('photograph').filter((one) => one.set.defect === entry.record);
}

/** The stamps on the record that the act brings or relies on. */
export function stamps(look: Look, entry: Entry): Stamp[] {
  const mine = look.relied('stamp').filter((one) => one.set.defect === entry.record);
  return mine.map((one) => stampOf(one, look.act));
}

interface Work {
  work: string;
  evidence: readonly string[];
}

const PLAIN_WORK: Work = { work: 'work', evidence: ['photograph'] };

/** The rows of the dispositions seen; what none of them names is plain work. */
function worksOf(look: Look, entry: Entry): readonly Work[] {
  const words = look.values(entry, 'disposition');
  const rows = DISPOSITIONS.filter(({ disposition }) => words.includes(disposition));
  return rows.length > 0 ? rows : [PLAIN_WORK];
}

/** The kinds of evidence that the dispositions seen ask for and that are not there. */
function lacksEvidence(look: Look, entry: Entry): string[] {
  const asked = new Set(worksOf(look, entry).flatMap(({ evidence }) => evidence));
  return Object.keys(EVIDENCE).filter((kind) => asked.has(kind) && !EVIDENCE[kind]?.(look, entry));
}

function evidenceSentence(look: Look, entry: Entry): string {
  const work = [...new Set(worksOf(look, entry).map((row) => row.work))].join(' and ');
  const lacking = lacksEvidence(look, entry).map((kind) => EVIDENCE_WORDS[kind]);
  return `Offering ${work} needs ${lacking.join(' and ')}.`;
}

const evidenceOf = (look: Look, entry: Entry): Fields[] =>
  look.values(entry, 'evidence').filter(isFields);

/** Whether a photograph is brought, is named as evidence, or was taken after the work. */
const showsWork: Need = (look, entry) => {
  const named = evidenceOf(look, entry).map(({ photograph }) => photograph);
  return photographs(look, entry).some(
    (one) => look.act.includes(one) || named.includes(one.record) || one.set.role === AFTER_WORK,
  );
};

const hasDepthLeft: Need = (look, entry) =>
  evidenceOf(look, entry).some(({ depth_left }) => (tenthNmOrNull(depth_left) ?? 0n) > 0n);

/** The kinds of evidence that are asked for; a line of rivets is once one can be linked. */
const EVIDENCE: Readonly<Record<string, Need>> = {
  photograph: showsWork,
  depth_left: hasDepthLeft,
};
const EVIDENCE_WORDS: Readonly<Record<string, string>> = {
  photograph: 'a photograph taken after the work',
  depth_left: 'the thickness left, measured after the work',
};

const notTheDoer: Need = (look, entry) => {
  const doers = look.doers(entry);
  return !doers.has(entry.by) && stamps(look, entry).every((one) => !doers.has(one.person));
};

const hasStamps: Need = (look, entry) => {
  const mine = stamps(look, entry);
  const first = mine.filter((one) => FIRST.includes(one.act));
  if (!isAsked(look, entry)) return first.length > 0;
  return first.some((one) => mine.some((two) => isSecond(one, two)));
};

const hasAuthority: Need = (look, entry) => {
  if (given('authority')(look, entry)) return true;
  const pins = look.values(entry, 'standard');
  const files = pins.map((pin) => (isFields(pin) ? pin.sha256 : null));
  if (pins.length === 0 || !files.every(isText)) return false;
  const told = lineInputs(linesOf(look, entry));
  const fields = [...new Set([...GRADING_FIELDS, ...Object.keys(told)])];
  const named = fields.map((field) => {
    return [field, [...look.values(entry, field), ...(told[field] ?? [])]] as const;
  });
  const values = Object.fromEntries(named.filter(([, some]) => some.length > 0));
  const grade = look.known.gradeOf(values, pins);
  if (grade === null) throw new FileMissing(files);
  return grade < 4;
};

/** By record what the act relies on of rivet lines that name the defect. */
function linesOf(look: Look, entry: Entry): Record<string, Record<string, Fields>> {
  const found: Record<string, Record<string, Fields>> = {};
  for (const one of look.relied('rivet_line')) {
    found[one.record] = { ...found[one.record], [one.id]: one.set };
  }
  const isOf = (values: Record<string, Fields>) =>
    Object.values(values).some((fields) => fields.defect === entry.record);
  return Object.fromEntries(Object.entries(found).filter(([, values]) => isOf(values)));
}

const isDeferral: Need = (look, entry) =>
  look
    .values(entry, 'deferral')
    .some(
      (value) =>
        isFields(value) &&
        (isText(value.to_stage) || isText(value.to_date)) &&
        isText(value.limit) &&
        isText(value.authority),
    );

const anotherRecord: Need = (look, entry) => {
  const values = look.values(entry, 'same_as');
  return values.length > 0 && values.every((v) => typeof v === 'string' && v !== entry.record);
};

const clearedHolds: Need = (look, entry) => {
  if (stateOf(entry).to !== 'Cleared') return true;
  const moves = look.ledHere(look.named(entry, 'state'));
  const mine = stamps(look, entry);
  const now = stampList(idsSeen(look, entry));
  const kinds = look.values(entry, 'kind');
  return moves
    .filter((move) => stateOf(move).to === 'Cleared')
    .some((move) =>
      clears(
        stateOf(move).move as string,
        mine,
        now,
        kinds,
        isAsked(look, entry),
        look.doers(move),
      ),
    );
};

/** The ids of stamped fields the author had seen: of the defect and what it relies on. */
function idsSeen(look: Look, entry: Entry): Set<string> {
  const fields = [...stampedFields('defect')];
  const ids = fields.flatMap((field) => look.named(entry, field).map((one) => one.id));
  for (const kind of ['photograph', 'mark', 'scale', 'measurement', 'rivet_line']) {
    const stamped = stampedFields(kind);
    const mine = look
      .relied(kind)
      .filter((one) => Object.keys(one.set).some((f) => stamped.has(f)));
    ids.push(...mine.map((one) => one.id));
  }
  return new Set(ids);
}

const NEEDS: Readonly<Record<string, Need>> = {
  number: given('number'),
  place: given('place'),
  kind: given('kind'),
  disposition: given('disposition'),
  why,
  reason: (look, entry) => why(look, entry) || given('reason')(look, entry),
  photograph: (look, entry) => photographs(look, entry).length > 0,
  'photograph or reason for none': (look, entry) =>
    photographs(look, entry).length > 0 || given('no_photograph')(look, entry),
  evidence: (look, entry) => lacksEvidence(look, entry).length === 0,
  'not the doer': notTheDoer,
  stamps: hasStamps,
  'accept as is': all('disposition', ACCEPT),
  'disposition stamp': (look, entry) => stamps(look, entry).some((s) => s.act === 'DISPOSITION'),
  'authority for grade 4': hasAuthority,
  'kind nil': all('kind', 'nil'),
  deferral: isDeferral,
  'another record': anotherRecord,
  'stamps hold for cleared': clearedHolds,
  'latest move of the same person and writer': () => true,
};

const NEED_WORDS: Readonly<Record<string, string>> = {
  why: 'a reason',
  place: 'a place, or the bay only',
  'photograph or reason for none': 'a photograph, or the reason for none',
  'not the doer': 'a person, and stamps of persons, who neither started nor offered the work',
  stamps: "an inspection stamp, and a second person's where independent inspection is asked",
  'accept as is': "the disposition 'Accept as is'",
  'disposition stamp': 'a stamp on the disposition',
  'authority for grade 4': "the design authority's reference, for grade 4 may not be ruled out",
  'kind nil': 'the kind nil',
  deferral: "a stage or date, a limit or 'no limit', and an authority",
  'another record': 'another record',
  'stamps hold for cleared': 'stamps that hold before Cleared can be chosen',
};
