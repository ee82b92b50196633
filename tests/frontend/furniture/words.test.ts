import { describe, expect, it } from 'vitest';
import {
  gradeWords,
  RIVET_WORDS,
  SAFETY_FULL,
  SAFETY_SHORT,
  stateWords,
} from '../../../frontend/src/furniture/words.ts';

describe('words of a grade', () => {
  it('says a known grade plainly', () => {
    expect(gradeWords(3)).toBe('Grade 3');
    expect(gradeWords(0)).toBe('Grade 0');
  });

  it('says at least, with its question mark, while the depth is not known', () => {
    expect(gradeWords(2, true)).toBe('Grade at least 2 ?');
  });

  it('never says at least 0, and never at least 4, the top', () => {
    expect(gradeWords(0, true)).toBe('Not graded ?');
    expect(gradeWords(null)).toBe('Not graded ?');
    expect(gradeWords(4, true)).toBe('Grade 4');
  });
});

describe('words on a sheet', () => {
  it('writes offered for inspection in full', () => {
    expect(stateWords('Offered')).toBe('Offered for inspection');
    expect(stateWords('In work')).toBe('In work');
  });

  it('says the whole state of a rivet', () => {
    expect(RIVET_WORDS.T).toBe('tipped or sheared');
    expect(RIVET_WORDS.V).toBe('renewed oversize');
    expect(new Set(Object.values(RIVET_WORDS)).size).toBe(11);
  });

  it('carries the safety wording word for word', () => {
    expect(SAFETY_SHORT).toBe('Sorting aid, not approved data');
    expect(SAFETY_FULL).toBe(
      'Workshop record and sorting aid. Not approved repair data. Grades and strength shares do not release any part or aircraft for flight.',
    );
  });
});
