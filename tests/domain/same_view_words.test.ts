import { describe, expect, it } from 'vitest';
import { decimalText, fitWords, isGood } from '../../frontend/src/domain/same_view_words';
import vectors from '../vectors/same_view.json';

describe('a kept fit', () => {
  it('is told in words, or not at all', () => {
    for (const [fit, words, good] of vectors.words) {
      expect([fitWords(fit), isGood(fit)]).toEqual([words, good]);
    }
  });
});

describe('decimalText', () => {
  it('rounds half away from nought', () => {
    for (const [number, places, text] of vectors.texts as [number, number, string][])
      expect(decimalText(number, places)).toBe(text);
  });
});
