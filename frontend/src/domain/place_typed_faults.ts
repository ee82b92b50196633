/** What is wrong with a part of a typed place that can't be read: which end of it, and why. */

import { Refused } from './errors';
import type { Structure } from './place_stations';

// Of two ways to part a text the plainer word comes first: "F6 - 2.0 to F9" is parted at "to".
const SAID = /(?:^|\s+)to(?:\s+|$)/g;
const JOINS = [SAID, /\s*–\s*/g, /\s*-\s*/g];
const BARE = /^[0-9.]+(?:\s*(?:in|mm|"))?(?:\s+[a-z]+)?\.?$/i;
const SERIES = /^([a-z]+)[ -]?[0-9]/i;
const DISTANCE = /^(.*?)\s*(?:\+|\s[-−]\s)\s*(.*)$/s;
const LAST_WORD = /^(.*[^a-zA-Z\s]|.*\S(?=\s))\s*("|[a-zA-Z]+)\.?$/s;
const MINUS = /^(.*?)\s*[-−]\s*([0-9.,]+)$/s;
const UNITS = ['in', 'mm', '"'];

type Reads = (text: string) => boolean;

/**
 * The refusal of a part that nothing reads, by the end or the offset that is wrong. `isEnd` says
 * whether a text reads as a member and a distance, `isStrake` whether as a strake.
 */
export function refusedPart(
  structure: Structure,
  part: string,
  isEnd: Reads,
  isStrake: Reads,
  hasPosition: boolean,
): Refused {
  if (hasPosition && isPosition(part, isEnd)) {
    const message = `“${part}” is a second position, and a place has one.`;
    return refused(message, 'Write a length as one part, from – to.');
  }
  const found = hasPosition ? null : faultyPosition(structure, part, isEnd);
  return found ?? faultyStrakes(structure, part, isStrake) ?? nothing(structure, part, hasPosition);
}

const refused = (message: string, hint: string) => new Refused('no_position', message, hint);

const isPosition = (part: string, isEnd: Reads): boolean =>
  isEnd(part) || halves(part).some((ends) => ends.every(isEnd));

/** The fault of each end of a from–to, or that of a member with a distance. */
function faultyPosition(structure: Structure, part: string, isEnd: Reads): Refused | null {
  const isSaid = part.search(SAID) >= 0;
  const pairs = halves(part);
  const oneReads = pairs.filter((ends) => ends.some(isEnd));
  for (const ends of [...oneReads, ...pairs.filter((one) => !oneReads.includes(one))]) {
    const isMeant = isSaid || ends.every((one) => isLikeMember(structure, one));
    if (!isMeant && !ends.some(isEnd)) continue;
    const wrong = ends.filter((one) => !isEnd(one));
    const faults = wrong.map((one) => endFault(structure, one, part, isEnd));
    if (faults.length === 0) faults.push(bareFault(structure, ends[1]));
    const said = new Set(faults.map((fault) => fault.message));
    return refused([...said].join(' '), faults[0]?.hint ?? '');
  }
  const isOffset = DISTANCE.test(part) || withoutWord(part, isEnd) !== null;
  const isOne = isOffset || isLikeMember(structure, part);
  return isOne ? endFault(structure, part, part, isEnd) : null;
}

const series = (name: string): string => SERIES.exec(name.trim())?.[1]?.toLowerCase() ?? '';

/** Whether a text is named as members are and strakes are not, such as F99 beside F6. */
function isLikeMember(structure: Structure, text: string): boolean {
  const own = series(text);
  const isMember = structure.members.some((member) => series(member.name) === own);
  return own !== '' && isMember && !structure.strakes.some((strake) => series(strake) === own);
}

/**
 * What stands on either side of each join of the plainest kind that there is. Figures alone after
 * a dash are a distance with its sign.
 */
function halves(part: string): [string, string][] {
  for (const kind of JOINS) {
    const joins = [...part.matchAll(kind)];
    const all = joins.map((join): [string, string] => [
      part.slice(0, join.index),
      part.slice(join.index + join[0].length),
    ]);
    const pairs = all.filter(([, last]) => kind === SAID || !BARE.test(last));
    if (pairs.length > 0) return pairs;
  }
  return [];
}

function bareFault({ axis }: Structure, figures: string): Refused {
  const bare = figures.trim();
  const message = `“${bare}” may be a station or a distance.`;
  return refused(message, `Write ${axis} ${bare}, or the member and its distance.`);
}

function endFault(structure: Structure, end: string, part: string, isEnd: Reads): Refused {
  const text = end.trim();
  if (!text) {
    const message = `“${part.trim()}” names one end only.`;
    return refused(message, 'Write both ends, or one without – or to.');
  }
  const word = withoutWord(text, isEnd);
  if (word) return wordFault(structure, ...word, isEnd);
  const [, member = '', distance = ''] = DISTANCE.exec(text) ?? [];
  if (!isEnd(member)) return noMember(structure, member || text);
  if (!isEnd(`${member} + 0`)) {
    const message = `“${member}” is a station, and a distance is counted from a member.`;
    return refused(message, 'Write the station alone, or member and distance.');
  }
  const said = distance
    ? `“${distance}” is no distance from ${member}.`
    : `How far from ${member}?`;
  return refused(said, `Write figures after it: ${member} + 2.0.`);
}

/** A position and its last word, where the word alone keeps it from being read. */
function withoutWord(text: string, isEnd: Reads): [string, string] | null {
  const [, rest = '', word = ''] = LAST_WORD.exec(text.trim()) ?? [];
  return rest && isEnd(rest) && !isEnd(text) ? [rest, word] : null;
}

/** What is wrong with the unit or the way that ends a position. */
function wordFault(structure: Structure, rest: string, word: string, isEnd: Reads): Refused {
  const { name, unit, positive } = structure;
  if (UNITS.includes(word.toLowerCase())) {
    const message = `“${rest} ${word}” is a station, and those of ${name} are in ${unit}.`;
    return refused(message, `Write it in ${unit}.`);
  }
  const [, member, figures] = MINUS.exec(rest) ?? [];
  if (member !== undefined && isEnd(`${member} + ${figures} ${word}`)) {
    const message = `“${rest} ${word}” says the way twice.`;
    return refused(message, `Write + and ${word}, or − alone.`);
  }
  const message = `“${word}” after “${rest}” is no unit and no way along ${name}.`;
  const hint = `Units are in and mm, of a distance; ${name} is counted ${positive} from a member.`;
  return refused(message, hint);
}

function noMember({ name, members }: Structure, text: string): Refused {
  const message = `${name} has no member called “${text}”.`;
  return refused(message, `It has ${members[0]?.name} to ${members.at(-1)?.name}.`);
}

function faultyStrakes(structure: Structure, part: string, isStrake: Reads): Refused | null {
  const { name, strakes } = structure;
  for (const ends of halves(part)) {
    const wrong = ends.filter((one) => !isStrake(one)).map((one) => one.trim());
    if (wrong.length !== 1) continue;
    const message = `${name} has no strake called “${wrong[0]}”.`;
    return refused(message, `It has ${strakes[0]} to ${strakes.at(-1)}.`);
  }
  return null;
}

function nothing(structure: Structure, part: string, hasPosition: boolean): Refused {
  const { name, members, strakes } = structure;
  if (hasPosition) {
    const message = `“${part}” is no strake or face of ${name}.`;
    const has = strakes.length ? `strakes ${strakes[0]} to ${strakes.at(-1)}` : 'no strakes';
    const faces = structure.faces.join(', ') || 'none';
    return refused(message, `It has ${has}; its faces are ${faces}.`);
  }
  const member = members[Math.min(1, members.length - 1)]?.name;
  const message = `“${part}” is no position, strake or face on ${name}.`;
  return refused(message, `Write a place as ${name} · ${member} + 2.0.`);
}
