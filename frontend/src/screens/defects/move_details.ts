import { Refused } from '../../domain/errors';
import { refuseFigures } from '../../domain/grading';
import { HIGHEST } from '../../domain/kinds';
import { isQuantity, isUnmeasured, parseTyped } from '../../domain/quantities';
import type { DefectRow, Json, MoveDetails, Session, Shop } from '../../services/shop';
import { type Decision, SET_FIELDS } from './move_forms';

type Given = Record<string, string>;

/** Turns what was filled in into the details of a move; refuses with a sentence. */
export async function detailsOf(
  shop: Shop,
  move: string,
  row: DefectRow,
  given: Given,
): Promise<MoveDetails> {
  const set: Record<string, Json> = {};
  for (const [name, text] of Object.entries(given))
    if (SET_FIELDS.has(name) && name !== 'same_as' && text.trim() !== '') set[name] = text.trim();
  if (move === 'accept') set.disposition = 'Accept as is';
  if (move === 'same as') set.same_as = await recordNumbered(shop, row, given.same_as ?? '');
  if (move === 'offer') set.evidence = evidenceOf(given);
  if (move === 'defer') Object.assign(set, deferredBy(row, given, shop.today()));
  const details: MoveDetails = { set };
  if (given.why?.trim()) details.why = given.why.trim();
  if (given.to) details.to = given.to;
  if (given.passcode) details.passcode = given.passcode;
  return details;
}

/** Writes a decision that leaves the state as it is. */
export async function decide(
  shop: Shop,
  session: Session,
  decision: Decision,
  row: DefectRow,
  given: Given,
): Promise<void> {
  const why = given.why?.trim();
  const { passcode } = given;
  const stamped = { ...(why ? { why } : {}), ...(passcode ? { passcode } : {}) };
  if (decision === 'overrule') {
    const overrule = { grade: gradeGiven(given.grade) };
    await shop.moves.decide(session, row.record, { overrule }, stamped);
  } else if (decision === 'overrule back') {
    await shop.moves.decide(session, row.record, { overrule: null }, stamped);
  } else if (decision === 'correct') {
    const values = await shop.book.plain(row.record);
    const { set, why: said } = correctionOf(values, given);
    await shop.capture.setFields(session, row.record, set, said);
  } else if (decision === 'grade again') {
    await gradeAgain(shop, session, row);
  } else {
    const look_again = lookAgainOf(decision, row, given);
    await shop.capture.setField(session, row.record, 'look_again', look_again);
  }
}

/** A figure in place of the one that stands, in its unit; what it was measured with stays. */
export function correctionOf(values: Record<string, Json>, given: Given) {
  const field = wanted(given.figure, 'No figure was chosen.', 'Choose the one that is wrong.');
  const why = wanted(given.why, 'A correction needs its reason.', 'Say why it is changed.');
  const stood = values[field];
  if (!isQuantity(stood)) throw new Refused('left_out', 'It has no figure.', 'Choose another.');
  const { method, instrument } = stood as unknown as Record<string, Json>;
  const kept = isUnmeasured(stood) ? {} : { method, instrument };
  const told = Object.entries(kept).filter(([, value]) => value !== undefined);
  const quantity = {
    ...parseTyped(given.corrected ?? '', stood.unit),
    ...Object.fromEntries(told),
  };
  const set = { [field]: quantity as unknown as Json };
  refuseFigures({ ...values, ...set });
  return { set, why };
}

function gradeGiven(text: string | undefined): number {
  const grade = Number(text || Number.NaN);
  if (Number.isInteger(grade) && grade >= 0 && grade <= HIGHEST) return grade;
  throw new Refused('left_out', 'No grade was chosen.', `Choose one of 0 to ${HIGHEST}.`);
}

function lookAgainOf(decision: Decision, row: DefectRow, given: Given): Json {
  if (decision === 'look again back') return null;
  if (decision === 'answer') {
    const answer = wanted(given.answer, 'The answer is empty.', 'Say what was seen.');
    return { ...(row.look_again as Record<string, Json>), answer };
  }
  const tablet = wanted(given.tablet, 'No tablet was chosen.', 'Choose its letter.');
  const ask = wanted(given.ask, 'Nothing is asked.', 'Say what to look at.');
  return { tablet, ask };
}

/** Pins the newest issue that is here, by which the record is graded from now on. */
async function gradeAgain(shop: Shop, session: Session, row: DefectRow): Promise<void> {
  const { standard } = shop;
  const kept = await shop.book.records('standard');
  const one = kept.find(({ name, issue }) => name === standard?.name && issue === standard?.issue);
  const hint = 'Bring this browser to the server.';
  if (!one) throw new Refused('not_known_here', 'The newest issue is not here yet.', hint);
  const pin = { name: one.name ?? null, issue: one.issue ?? null, sha256: one.sha256 ?? null };
  await shop.capture.setField(session, row.record, 'standard', pin, 'graded again');
}

async function recordNumbered(shop: Shop, row: DefectRow, number: string): Promise<string> {
  const [other] = await shop.book.numbered(number.trim().toUpperCase());
  if (other && other.record !== row.record) return other.record;
  const hint = 'Type the number of the record that stays, such as A/0002.';
  throw new Refused('no_such_defect', `There is no other record ${number}.`, hint);
}

function evidenceOf(given: Given): Json {
  const evidence: Record<string, Json> = {};
  if (given.evidence_photograph) evidence.photograph = given.evidence_photograph;
  if (given.depth_left?.trim())
    evidence.depth_left = { ...parseTyped(given.depth_left.trim(), 'in') } as unknown as Json;
  return evidence;
}

/** What a deferral sets: until when, the day to look again, the limit, who agreed. */
export function deferredBy(row: DefectRow, given: Given, today: string): Record<string, Json> {
  const [stage, date] = [given.to_stage?.trim(), given.to_date?.trim()];
  if (!stage && !date)
    throw new Refused('left_out', 'It is put off to nothing.', 'Choose a stage or a day.');
  const by = wanted(
    given.look_again_by,
    'No day to look again.',
    'A deferral comes back by itself: give the day.',
  );
  if (by < today) {
    const hint = `Give a day from ${today} on.`;
    throw new Refused('left_out', `${by} has gone by.`, hint);
  }
  const limit = given.limit_words?.trim() || given.limit?.trim();
  const authority = wanted(
    given.deferral_authority,
    'Nobody is named who agreed.',
    'Name the authority, such as Lead.',
  );
  const deferral: Record<string, Json> = {
    ...(stage ? { to_stage: stage } : {}),
    ...(date ? { to_date: date } : {}),
    look_again_by: by,
    limit: wanted(limit, 'No limit was said.', 'Give a limit, or choose “no limit”.'),
    authority,
  };
  return { deferral, ...(stage && stage !== row.stage ? { stage } : {}) };
}

/** A text that may not be left out. */
function wanted(text: string | undefined, message: string, hint: string): string {
  const typed = text?.trim();
  if (typed) return typed;
  throw new Refused('left_out', message, hint);
}
