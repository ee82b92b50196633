/** A whole place as people type it: Hull · port · F6 + 2.0 · K–B1 · inner face · sheet 2. */

import { Refused } from './errors';
import {
  type Definition,
  endTenthNm,
  type Hand,
  membersInOrder,
  nearestEnd,
  type Place,
  type PlaceEnd,
  plainSpaces,
  readPosition,
  type Structure,
} from './place_stations';
import { refusedPart } from './place_typed_faults';
import { type Quantity, roundedText, TENTH_NM, toTenthNm, type Unit } from './quantities';

const HANDS: Record<Hand, string> = { P: 'port', S: 'starboard', C: 'centreline' };
const HAND_WORDS: Record<Hand, string[]> = {
  P: ['port', 'left', 'p', 'l'],
  S: ['stbd', 'starboard', 'right', 's', 'r'],
  C: ['centreline', 'centre', 'centerline', 'center', 'c'],
};
const OTHER_WAY: Record<string, string[]> = {
  aft: ['fwd', 'forward'],
  forward: ['aft'],
  outboard: ['inbd', 'inboard'],
  inboard: ['outbd', 'outboard'],
  up: ['down'],
  down: ['up'],
};
const SHORT: Record<string, string[]> = {
  outboard: ['outbd'],
  inboard: ['inbd'],
  forward: ['fwd'],
};
const OFF = 'off aircraft';
const BREAKS = [/\s*[·•]\s*/, /\s*[;\n]\s*/, /,\s+/];
const JOIN = /\s+to\s+|\s*[–-]\s*/g;
const MOST_LETTERS = 200;
const FARTHEST_TENTH_NM = 100_000n * TENTH_NM.mm;
const LAYER = /^(?:sheet|layer) *([1-9][0-9]?)$/i;
const WAYS = 'aft|down|forward|fwd|inbd|inboard|outbd|outboard|up';
const TAIL = new RegExp(
  `^(.*?)\\s*([+-]?)\\s*([0-9]*\\.?[0-9]+)\\s*(?:(in|mm|")(?![a-z]))?\\s*(${WAYS})?\\.?$`,
  'i',
);
const STRINGER = /^(?:s-?)?([0-9]+)([lrps]?)$/i;
const SIDES: Record<string, Hand> = { l: 'P', p: 'P', r: 'S', s: 'S' };

/** The structure and hand that a writer is at. */
export interface Here {
  structure?: string;
  hand?: Hand;
}

type Along = PlaceEnd & { to?: PlaceEnd };

/**
 * The place that a text in trade notation means. Parts are set apart by ·, else by ; or by a comma
 * and a space, in the order of the words of a place, of which only the position must be there;
 * structure and hand are those of `at` where they are left out. An offset forward of its member is
 * normalised to the member before it. Refused: what can't be read or is not there, a stringer
 * without its side, and an offset beyond 100 m.
 */
export function readPlace(definition: Definition, written: string, at: Here = {}): Place {
  const text = plainSpaces(written);
  const typed = text.trim();
  if (fold(typed).startsWith(OFF)) return readOff(definition, typed);
  const by = BREAKS.find((one) => one.test(text)) ?? (BREAKS[0] as RegExp);
  const cut = [...text].slice(0, MOST_LETTERS).join('');
  const parts = cut.trim().split(by).filter(Boolean);
  return new Reading(definition, at).read(parts, cut);
}

const fold = (text: string): string => text.toLowerCase();
const isSame = (name: string, text: string): boolean => fold(name) === fold(text);

function readOff(definition: Definition, text: string): Place {
  const [first = '', ...rest] = text
    .slice(OFF.length)
    .replace(/^[ ,:]+/, '')
    .split('·');
  const known = (definition.off_aircraft ?? []).map((one) => one.name);
  const found = known.find((one) => isSame(one, first.trim()));
  if (found === undefined) {
    const message = `There is no place off the aircraft called “${first.trim()}”.`;
    throw new Refused('no_structure', message, `There are ${known.join(', ') || 'none'}.`);
  }
  const part = (rest[0] ?? '').trim();
  if (!part) throw new Refused('no_position', `Which part lies on ${found}?`, 'Name it after a ·.');
  const marked = rest
    .slice(1)
    .join('·')
    .trim()
    .replace(/^marked /, '');
  const place = { off: found, part, precision: 'bay only', ...(marked && { marking: marked }) };
  return place as unknown as Place;
}

/** One text being read, part by part. */
class Reading {
  private structure!: Structure;
  private hand: Hand | '' = '';
  private side: Hand | '' = '';
  private isBayOnly = false;
  private along: Along | null = null;
  private more: Pick<Place, 'strakes' | 'face' | 'layer'> = {};

  constructor(
    private readonly definition: Definition,
    private readonly at: Here,
  ) {}

  read(parts: string[], text: string): Place {
    for (const part of this.takeStructure(parts)) if (!this.take(part)) throw this.refusal(part);
    if (!this.along) throw this.refusal(text);
    const hand = this.theHand();
    const along = this.isBayOnly ? wholeBay(this.structure, this.along) : this.along;
    const precision = this.isBayOnly ? 'bay only' : 'exact';
    const place = { structure: this.structure.name, hand, ...along, ...this.more, precision };
    return place as Place;
  }

  private takeStructure(parts: string[]): string[] {
    const { structures, name } = this.definition;
    const [first = ''] = parts;
    const named = structures.find((one) => isSame(one.name, first));
    const only = structures.length === 1 ? structures[0] : undefined;
    const found = named ?? structures.find((one) => one.name === this.at.structure) ?? only;
    if (!found) {
      const has = structures.map((one) => one.name).join(', ');
      throw new Refused('no_structure', `“${first}” is no structure of ${name}.`, `It has ${has}.`);
    }
    this.structure = found;
    return named ? parts.slice(1) : parts;
  }

  /** One part; before the position it may be a hand, after it a strake comes first. */
  private take(part: string): boolean {
    if (fold(part) === 'bay only') {
      this.isBayOnly = true;
      return true;
    }
    const layer = LAYER.exec(part);
    if (layer) {
      this.more.layer = Number(layer[1]);
      return true;
    }
    if (!this.along && (this.isHand(part) || this.isAlong(part))) return true;
    return this.isFace(part) || this.isStrakes(part) || this.isHand(part);
  }

  private isHand(part: string): boolean {
    const word = fold(part).replace(/\.+$/, '');
    const hand = (['P', 'S', 'C'] as const).find((one) => HAND_WORDS[one].includes(word));
    if (!hand || this.hand) return false;
    if (!this.structure.hands.includes(hand)) {
      const message = `${this.structure.name} has no hand ${HANDS[hand]}.`;
      throw new Refused('no_hand', message, `It has ${this.hands()}.`);
    }
    this.hand = hand;
    return true;
  }

  private hands(): string {
    return this.structure.hands.map((one) => HANDS[one]).join(', ');
  }

  private isFace(part: string): boolean {
    const words = [fold(part).replace(/\s+face$/, ''), fold(part)];
    const face = this.structure.faces.find((one) => words.includes(fold(one)));
    if (face) this.more.face = face;
    return face !== undefined;
  }

  /** One position, or two with "to" or a dash between them. */
  private isAlong(part: string): boolean {
    this.along = this.end(part);
    for (const [first, last] of this.along ? [] : halvesOf(part)) {
      const [from, to] = [this.end(first), this.end(last)];
      if (!from || !to || /^[0-9.]+$/.test(last)) continue;
      this.along = { ...from, to };
      break;
    }
    return this.along !== null;
  }

  private end(text: string): PlaceEnd | null {
    let plain = text.trim().replaceAll('\u2212', '-').replaceAll(',', '.');
    const tail = TAIL.exec(plain);
    const unit = (tail?.[4] ?? '').toLowerCase().replace('"', 'in') as Unit | '';
    if (tail && (tail[4] || tail[5])) {
      const sign = this.sign(tail[2] ?? '', fold(tail[5] ?? ''));
      if (sign === null) return null;
      plain = `${tail[1]} ${sign} ${tail[3]}`;
    }
    const end = orNull(() => readPosition(this.structure, plain));
    if (!end) return null;
    if (unit && unit !== this.structure.unit) {
      // A station is in the unit of its structure.
      return this.end(tail?.[1] ?? '') && near({ ...end, offset: { ...end.offset, unit } });
    }
    near(end);
    return end.offset.value.startsWith('-') ? nearestEnd(this.structure, end) : end;
  }

  /** + or - for a distance that way; null where sign and word say two things. */
  private sign(sign: string, way: string): string | null {
    const { positive } = this.structure;
    if (way === '' || way === positive || SHORT[positive]?.includes(way))
      return way && sign === '-' ? null : sign || (way ? '+' : '');
    return OTHER_WAY[positive]?.includes(way) && sign !== '-' ? '-' : null;
  }

  private isStrakes(part: string): boolean {
    const one = this.strake(part);
    const pairs = one === null ? halvesOf(part) : [];
    const read = pairs.map((pair) => pair.map((end) => this.strake(end)));
    const both = one === null ? read.find((pair) => !pair.includes(null)) : [one, one];
    if (both) this.more.strakes = both as string[];
    return both !== undefined;
  }

  /** A strake by its name; a stringer also by its number and side, S-4L. */
  private strake(text: string): string | null {
    const { strakes } = this.structure;
    const found = strakes.find((one) => isSame(one, text.trim())) ?? null;
    const typed = this.structure.stringers?.length ? STRINGER.exec(text.trim()) : null;
    if (found !== null || !typed) return found;
    const side = SIDES[fold(typed[2] ?? '')] ?? '';
    if (side && this.side && this.side !== side) {
      const message = `${text.trim()} is on the other side.`;
      throw new Refused('no_hand', message, 'Write one side.');
    }
    this.side = side || this.side;
    const numbers = [typed[1], `s-${typed[1]}`, `s${typed[1]}`];
    return strakes.find((one) => numbers.includes(fold(one))) ?? null;
  }

  /** The hand that was written, or the only one, or where the writer is. */
  private theHand(): Hand {
    const { name, hands, stringers } = this.structure;
    if (this.hand && this.side && this.hand !== this.side) {
      const message = `The stringer is ${HANDS[this.side]}, and ${HANDS[this.hand]} is written.`;
      throw new Refused('no_hand', message, 'Write one of them.');
    }
    const hand = this.hand || this.side || (hands.length === 1 ? (hands[0] as Hand) : '');
    if (hand) return hand;
    const named = this.more.strakes?.[0];
    if (stringers?.length && named) {
      const hint = `Write ${named}L or ${named}R, or port or starboard.`;
      throw new Refused('side_missing', `${named} of ${name}: which side?`, hint);
    }
    const here = this.at.structure === name ? this.at.hand : undefined;
    if (here && hands.includes(here)) return here;
    throw new Refused('no_hand', `On which hand of ${name}?`, `It has ${this.hands()}.`);
  }

  private refusal(part: string): Refused {
    const isEnd = (text: string) => this.end(text) !== null;
    const isStrake = (text: string) => this.strake(text) !== null;
    return refusedPart(this.structure, part, isEnd, isStrake, this.along !== null);
  }
}

/** Refuses an offset that no aircraft has; common practice, no source. */
function near(end: PlaceEnd & { offset: Quantity }): PlaceEnd {
  const { value, unit } = end.offset;
  const parts = toTenthNm(end.offset);
  if (parts <= FARTHEST_TENTH_NM && -parts <= FARTHEST_TENTH_NM) return end;
  const message = `${value} ${unit} from ${end.member} is more than 100 m.`;
  throw new Refused('no_position', message, 'Type the distance from the member next to it.');
}

/** What stands on either side of each "to" or dash of a part. */
function halvesOf(part: string): [string, string][] {
  return [...part.matchAll(JOIN)].map((join) => [
    part.slice(0, join.index),
    part.slice(join.index + join[0].length),
  ]);
}

function orNull<T>(ask: () => T): T | null {
  try {
    return ask();
  } catch {
    return null;
  }
}

/** A bay, or several, as the middle of it from its first member. */
function wholeBay(structure: Structure, along: Along): PlaceEnd {
  const begin = endTenthNm(structure, { member: along.member });
  const after = membersInOrder(structure).stations.find((one) => one > begin) ?? begin;
  const end = along.to ? endTenthNm(structure, along.to) : after;
  if (end <= begin) {
    const message = `No bay begins at ${along.member}.`;
    throw new Refused('no_position', message, 'Name the member before the bay.');
  }
  const half = roundedText(end - begin, 2n * TENTH_NM[structure.unit], 3);
  const value = half.replace(/0+$/, '').replace(/\.$/, '');
  return { member: along.member, offset: { value, unit: structure.unit } };
}
