/** Record numbers and tags: A/0017, its file form A0017, and a check character. */

import { Refused } from './errors';

// Without I O P S C: like 1 and 0, or port, starboard, centre.
const LETTERS = 'ABDEFGHJKLMNQRTUVWXYZ';
const LAST = 9999;
const LETTER = new RegExp(`^[${LETTERS}]{1,2}$`);
const NUMBER = new RegExp(`^([${LETTERS}]{1,2}) ?/? ?([0-9]{4})$`);
const CHECK = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*';

/** The number of a record: ("A", 17) is "A/0017". */
export function writeNumber(letter: string, serial: number): string {
  if (!LETTER.test(letter)) {
    throw new Refused('no_such_letter', `“${letter}” is no tablet letter.`, 'Enrol the tablet.');
  }
  if (!Number.isInteger(serial) || serial < 1 || serial > LAST) {
    throw new Refused(
      'numbers_used_up',
      `Tablet ${letter} can't give number ${serial}; numbers run from 1 to ${LAST}.`,
      'Enrol the tablet again: it gets a new letter.',
    );
  }
  return `${letter}/${String(serial).padStart(4, '0')}`;
}

/** Letter and serial of a number as written, typed or in a file name. */
export function readNumber(text: string): [letter: string, serial: number] {
  const found = NUMBER.exec(text.trim().toUpperCase());
  if (found?.[1] === undefined || found[2] === undefined || found[2] === '0000') {
    throw new Refused(
      'not_a_number',
      `“${text}” is no record number.`,
      'Numbers are a tablet letter and four digits, such as A/0017.',
    );
  }
  return [found[1], Number(found[2])];
}

/** A number as it stands in file names, tags and addresses: A0017. */
export function fileNumber(number: string): string {
  const [letter, serial] = readNumber(number);
  return letter + String(serial).padStart(4, '0');
}

/** The letter after the last one ever given; a letter is never given twice. */
export function nextLetter(used: Iterable<string>): string {
  const single = [...LETTERS];
  const order = [...single, ...single.flatMap((first) => single.map((second) => first + second))];
  const after = Math.max(0, ...[...used].map((letter) => order.indexOf(letter) + 1));
  const letter = order[after];
  if (letter === undefined) {
    throw new Refused('letters_used_up', `All ${after} tablet letters are given.`);
  }
  return letter;
}

/** The ISO/IEC 7064 MOD 37-2 check character: a digit, a letter or `*`. */
export function checkCharacter(text: string): string {
  let product = 0;
  for (const character of text) product = ((product + checkValue(character)) * 2) % 37;
  return CHECK.charAt((38 - product) % 37);
}

function checkValue(character: string): number {
  const value = CHECK.indexOf(character);
  if (value >= 0 && value < 36) return value;
  const message = `“${character}” can't stand in a tag.`;
  throw new Refused('not_checkable', message, 'Use digits and letters.');
}

/** The tag of a record: constructor's number, record number, check character. */
export function tag(constructorsNumber: string, number: string): string {
  const body = constructorsNumber.toUpperCase().replace(/[^0-9A-Z]/g, '') + fileNumber(number);
  return body + checkCharacter(body);
}

/** Whether a tag as typed or scanned has its right check character. */
export function tagHolds(text: string): boolean {
  const body = text.toUpperCase().replace(/[^0-9A-Z*]/g, '');
  const last = body.length - 1;
  const inside = body.slice(0, last);
  return last > 0 && !inside.includes('*') && checkCharacter(inside) === body.charAt(last);
}
