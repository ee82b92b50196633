/** What is described of one hand, written for the others: structures and zones. */

import { handOf, type Row, type StructureTyped, said } from './airframe_rows';

const OTHER: Record<string, string> = { P: 'S', S: 'P' };
const WORDS: Record<string, string> = { Port: 'Starboard', Starboard: 'Port' };
const SWAPPED = /\b(port|starboard)\b/gi;

/** "Port wing" as "Starboard wing", in the letters it is written in. */
export function otherHandWords(text: string): string {
  return text.replace(SWAPPED, (word) => {
    const capital = word.charAt(0).toUpperCase() + word.slice(1).toLowerCase();
    const other = WORDS[capital] ?? word;
    if (word === word.toUpperCase()) return other.toUpperCase();
    return word.charAt(0) === capital.charAt(0) ? other : other.toLowerCase();
  });
}

/** A structure that the other hand has as well, and whether it has one. */
export function otherHandOf(structure: StructureTyped): StructureTyped | null {
  const hand = OTHER[handOf(structure.hands)];
  const name = otherHandWords(structure.name);
  if (!hand || name === structure.name) return null;
  return { ...structure, hands: hand, name };
}

/** What a structure has of the one of the other hand; its name, datum and direction stay. */
const COPIED = ['members', 'strakes', 'plates', 'faces'] as const;

/**
 * The structures with what one of them has written for the other hand as well: a structure of its
 * own at the end, or members, strakes, plates and faces in place of those it has. Null where there
 * is nothing to write: no other hand, or the same stands there already.
 */
export function withOtherHand(
  structures: readonly StructureTyped[],
  at: number,
): { name: string; replaced: number | null; structures: StructureTyped[] } | null {
  const shown = structures[at];
  const other = shown ? otherHandOf(shown) : null;
  if (!shown || !other) return null;
  const place = structures.findIndex((one) => one.name.trim() === other.name.trim());
  const standing = structures[place];
  if (!standing) return { name: other.name, replaced: null, structures: [...structures, other] };
  if (COPIED.every((name) => isSame(standing[name], shown[name]))) return null;
  const copied = Object.fromEntries(COPIED.map((name) => [name, shown[name]]));
  return {
    ...{ name: other.name, replaced: said(standing.members).length },
    structures: structures.map((one, each) => (each === place ? { ...one, ...copied } : one)),
  };
}

function isSame(one: unknown, other: unknown): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}

/** The zones of other hands that can be written beside one, and what is said of those that can't. */
export interface OtherHands {
  offered: Row[];
  said: string[];
}

const HAND_WORDS: Record<string, string> = { P: 'port', S: 'starboard', C: 'centreline' };
const RULE = ['structure', 'from', 'to', 'low', 'high'] as const;

/**
 * The zones of the other hands beside one: 111 port gives 112 starboard and 110 centreline, 113 port
 * gives 114 and 110 again. Only a free number is offered; a hand that has its zone already, or whose
 * number another zone has, is named. `hands` are those of its structure.
 */
export function otherHandZones(
  row: Row,
  zones: readonly Row[],
  hands: readonly string[],
): OtherHands {
  const number = row.zone?.trim() ?? '';
  const hand = handOf(row.hand ?? '');
  if (!/^\d{3}$/.test(number) || !OTHER[hand]) return { offered: [], said: [] };
  const last = Number(number.at(-1));
  if (last === 0 || last % 2 !== (hand === 'P' ? 1 : 0)) {
    const wanted = hand === 'P' ? 'an odd' : 'an even';
    return { offered: [], said: [`${number} is ${HAND_WORDS[hand]} and has not ${wanted} number`] };
  }
  const found: OtherHands = { offered: [], said: [] };
  for (const other of [OTHER[hand], 'C'].filter((one) => hands.includes(one))) {
    const wanted = numberFor(number, other);
    const stands = zones.find((one) => isSameRule(one, row) && handOf(one.hand ?? '') === other);
    const holder = zones.find((one) => one.zone?.trim() === wanted);
    if (stands) found.said.push(`${HAND_WORDS[other]} is here as ${stands.zone || '–'}`);
    else if (wanted === null)
      found.said.push(`${HAND_WORDS[other]} has no number beside ${number}: write it by hand`);
    else if (holder) found.said.push(clashWords(other, holder));
    else found.offered.push(otherZone(row, wanted, other));
  }
  return found;
}

/** 112 beside 111 and 111 beside 112; the centreline has the nought of the ten. */
function numberFor(number: string, hand: string): string | null {
  const ten = Number(number) - Number(number.at(-1));
  if (hand === 'C') return String(ten).padStart(3, '0');
  const beside = Number(number) + (hand === 'S' ? 1 : -1);
  return beside >= ten + 10 ? null : String(beside).padStart(3, '0');
}

function isSameRule(one: Row, other: Row): boolean {
  return RULE.every((name) => (one[name]?.trim() ?? '') === (other[name]?.trim() ?? ''));
}

function clashWords(hand: string, holder: Row): string {
  const held = [HAND_WORDS[handOf(holder.hand ?? '')], holder.title?.trim()];
  const words = held.filter(Boolean).join(', ');
  return `no number for ${HAND_WORDS[hand]}: ${holder.zone} is ${words ? `“${words}”` : 'taken'}; write it by hand`;
}

function otherZone(row: Row, zone: string, hand: string): Row {
  return { ...row, zone, hand, title: titled(row.title ?? '', hand) };
}

function titled(title: string, hand: string): string {
  return hand === 'C' ? title.replace(SWAPPED, 'centreline') : otherHandWords(title);
}
