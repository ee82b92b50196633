// A ± that reaches a limit leaves the grade open, in both languages alike.
import { describe, expect, it } from 'vitest';
import type { Standard } from '../../frontend/src/domain/grading';
import { gradeWithDoubt } from '../../frontend/src/domain/grading_doubt';
import { gradeWords, openWords } from '../../frontend/src/domain/grading_words';
import type { StandingValues } from '../../frontend/src/domain/grading_worst';
import qs7 from '../../sample_data/skinpin_demo/data/standard_qs7.json';
import vectors from '../vectors/grading_doubt.json';

const QS7 = qs7 as unknown as Standard;

describe('a figure is graded with its doubt', () => {
  it.each(vectors.cases)('$name', (row) => {
    const graded = gradeWithDoubt(row.standing as unknown as StandingValues, QS7);
    expect(gradeWords(graded)).toBe(row.words);
    expect(openWords(graded)).toBe(row.open);
    expect(graded.doubted).toEqual(row.doubted);
    expect(graded.could_be).toEqual(row.could_be);
  });
});
