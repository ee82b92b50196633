import { parseTyped } from '../../domain/quantities';
import type { DefectRow, Json, MoveDetails, Shop } from '../../services/shop';
import { SET_FIELDS } from './move_forms';

/** Turns what was filled in into the details of a move; refuses with a sentence. */
export async function detailsOf(
  shop: Shop,
  move: string,
  row: DefectRow,
  given: Record<string, string>,
): Promise<MoveDetails> {
  const set: Record<string, Json> = {};
  for (const [name, text] of Object.entries(given))
    if (SET_FIELDS.has(name) && name !== 'same_as' && text.trim() !== '') set[name] = text.trim();
  if (move === 'accept') set.disposition = 'Accept as is';
  if (move === 'same as') set.same_as = await recordNumbered(shop, row, given.same_as ?? '');
  if (move === 'offer') set.evidence = evidenceOf(given);
  if (move === 'defer') set.deferral = deferralOf(given);
  const details: MoveDetails = { set };
  if (given.why?.trim()) details.why = given.why.trim();
  if (given.to) details.to = given.to;
  if (given.passcode) details.passcode = given.passcode;
  return details;
}

async function recordNumbered(shop: Shop, row: DefectRow, number: string): Promise<string> {
  const [other] = await shop.book.numbered(number.trim().toUpperCase());
  if (!other || other.record === row.record)
    throw Object.assign(new Error(`There is no other record ${number}.`), {
      code: 'no_such_record',
      hint: 'Type the number of the record that stays, such as A/0002.',
    });
  return other.record;
}

function evidenceOf(given: Record<string, string>): Json {
  const evidence: Record<string, Json> = {};
  if (given.evidence_photograph) evidence.photograph = given.evidence_photograph;
  if (given.depth_left?.trim())
    evidence.depth_left = { ...parseTyped(given.depth_left.trim(), 'in') } as unknown as Json;
  return evidence;
}

function deferralOf(given: Record<string, string>): Json {
  const deferral: Record<string, Json> = {};
  if (given.to_stage?.trim()) deferral.to_stage = given.to_stage.trim();
  if (given.look_again_by) deferral.look_again_by = given.look_again_by;
  if (given.limit?.trim()) deferral.limit = given.limit.trim();
  if (given.deferral_authority?.trim()) deferral.authority = given.deferral_authority.trim();
  return deferral;
}
