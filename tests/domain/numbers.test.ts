import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkCharacter,
  fileNumber,
  nextLetter,
  readNumber,
  tag,
  tagHolds,
  writeNumber,
} from '../../frontend/src/domain/numbers';
import vectors from '../vectors/numbers.json';

describe('numbers', () => {
  it.each(vectors.write)('a number is the letter and four digits: $number', (row) => {
    expect(writeNumber(row.letter, row.serial)).toBe(row.number);
    expect(fileNumber(row.number)).toBe(row.file);
    expect(readNumber(row.number)).toEqual([row.letter, row.serial]);
  });

  it.each(vectors.write_refused)('no number past the last: $letter $serial', (row) => {
    expect(() => writeNumber(row.letter, row.serial)).toThrow(/\.$/);
  });

  it.each(vectors.read)('a number is read as people write it: $text', (row) => {
    expect(readNumber(row.text)).toEqual([row.letter, row.serial]);
  });

  it.each(vectors.read_refused)('what is no number is refused: %s', (text) => {
    expect(() => readNumber(text)).toThrow('no record number');
  });

  it.each(vectors.next_letter)('a letter follows the last ever given: $used', (row) => {
    expect(nextLetter(row.used)).toBe(row.letter);
  });

  it('letters are refused when all are given', () => {
    const given: string[] = [];
    for (let count = 0; count < 462; count++) given.push(nextLetter(given));
    expect(new Set(given).size).toBe(462);
    expect(() => nextLetter(given)).toThrow('462');
  });

  it.each(vectors.check)('the check character agrees with published examples: $text', (row) => {
    expect(checkCharacter(row.text)).toBe(row.check);
  });

  it.each(vectors.tag)('a tag ends in its check character: $tag', (row) => {
    expect(tag(row.constructor, row.number)).toBe(row.tag);
  });

  it.each(vectors.tag_holds)('a tag read wrongly is noticed: $text', (row) => {
    expect(tagHolds(row.text)).toBe(row.holds);
  });

  it('one wrong character never checks', () => {
    const character = fc.constantFrom(...'0O1IA');
    const body = fc.string({ unit: character, minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(body, fc.nat(7), character, (text, at, wrong) => {
        const place = at % text.length;
        fc.pre(text[place] !== wrong);
        const slip = text.slice(0, place) + wrong + text.slice(place + 1);
        expect(tagHolds(slip + checkCharacter(text))).toBe(false);
      }),
    );
  });
});
