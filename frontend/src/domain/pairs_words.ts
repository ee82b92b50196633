/** Why two records are asked about, and what was decided of them, in sentences. */

import { GROUPS, kindGroup, kindWords, rowOf } from './kinds';
import type { PairRow, Spot } from './pairs_spots';
import { roundedText, TENTH_NM, type Unit } from './quantities';

const OPPOSITE: Readonly<Record<string, string>> = {
  aft: 'forward',
  forward: 'aft',
  outboard: 'inboard',
  inboard: 'outboard',
  up: 'down',
  down: 'up',
};
const PLACES = 3;

/** A length (0.1 nm, or so many parts of that) without the noughts at its end: "0.5 in". */
export function lengthWords(length: bigint, unit: Unit, parts = 1n): string {
  const text = roundedText(length, TENTH_NM[unit] * parts, PLACES).replace(/\.?0+$/, '');
  return text === '0' && length !== 0n ? `under 0.001 ${unit}` : `${text} ${unit}`;
}

/** Why two records may be one defect; `least` is twice how far is always asked. */
export function sameReason(first: Spot, second: Spot, least: number): string {
  const distance = second.station - first.station;
  const reach = BigInt(Math.max(least, first.length + second.length));
  const [one, other] = [first.row, second.row];
  const isSame = String(first.strakes) === String(second.strakes);
  const isKind = one.kind === other.kind;
  const shared = ['hand', ...(isSame ? [acrossWord(first)] : []), ...(isKind ? ['kind'] : [])];
  const told = [
    shared.length > 1 ? `Same ${listed(shared)}` : 'Same hand',
    ...(isSame ? [] : [`${strakesOf(first)} and ${strakesOf(second)} overlap`]),
    ...(isKind ? [] : [groupOf(one, other)]),
    `asked up to ${lengthWords(reach, first.structure.unit, 2n)}`,
  ];
  const where = distance === 0 ? 'at the same station' : away(distance, first);
  const reason = `${named(other)} lies ${where}. ${told.join('; ')}.`;
  return [reason, ...foundAgain(one, other)].join(' ');
}

/** Why a record may have been entered for the wrong hand. */
export function oppositeReason(first: Spot, second: Spot, reach: number): string {
  const across = acrossWord(first);
  const shared = across === 'member' ? ['member', 'kind'] : ['member', across, 'kind'];
  const distance = second.offset - first.offset;
  const where = distance === 0 ? 'at the same distance' : away(distance, first);
  const asked = `asked within ${lengthWords(BigInt(reach), first.structure.unit)}`;
  return `${named(second.row)} lies on the other hand, ${where}. Same ${listed(shared)}; ${asked}.`;
}

/** What was already decided of the records of a pair. */
export function decidedWords(rows: readonly PairRow[]): string | null {
  return rows.flatMap((row) => decided(row) ?? []).join(' ') || null;
}

/** That both records were left as they are. */
export function twoWords(query: string): string {
  return query === 'wrong hand'
    ? 'Both were decided to be right: one on each hand.'
    : 'They were decided to be two defects.';
}

function decided(row: PairRow): string | null {
  if (row.state === 'Raised in error') return `${named(row)} was raised in error.`;
  if (row.own_state !== 'Same as') return null;
  return `${named(row)} was decided to be the same as ${row.same_as_number || 'another record'}.`;
}

function foundAgain(first: PairRow, second: PairRow): string[] {
  return [first, second]
    .filter((row) => row.state === 'Cleared')
    .map((row) => `${named(row)} is cleared: if they are one, it was found again.`);
}

const acrossWord = (spot: Spot) => (spot.strakes ? 'strakes' : spot.beside[0]);

function away(distance: number, spot: Spot): string {
  const { positive, unit } = spot.structure;
  const way = distance > 0 ? positive : (rowOf(OPPOSITE, positive) ?? `against ${positive}`);
  return `${lengthWords(BigInt(Math.abs(distance)), unit)} ${way}`;
}

function groupOf(first: PairRow, second: PairRow): string {
  const group = kindGroup(first.kind) ?? String(first.kind);
  const kinds = `${kindWords(first.kind)} and ${kindWords(second.kind).toLowerCase()}`;
  return `${kinds} are both ${(rowOf(GROUPS, group) ?? group).toLowerCase()}`;
}

const strakesOf = (spot: Spot) =>
  [...new Set((spot.place.strakes ?? []).filter((one) => one != null))].join('–');

const named = (row: PairRow) => row.number || 'The record without a number';

/** Words as a list in a sentence: hand, strakes and kind. */
export function listed(words: readonly string[]): string {
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
