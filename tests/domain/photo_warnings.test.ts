// What is told with a figure from a photograph long after it was taken.
import { describe, expect, it } from 'vitest';
import { figureWarnings } from '../../frontend/src/domain/photo_warnings';
import vectors from '../vectors/photo_warnings.json';

describe('the warnings of a figure', () => {
  it.each(vectors.cases)('$name', ({ measurement, scale, photograph, words }) => {
    expect(figureWarnings(measurement, scale, photograph)).toEqual(words);
  });
});
