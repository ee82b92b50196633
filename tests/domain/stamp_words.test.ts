import { expect, it } from 'vitest';
import { lastOvertaken, overtakenWords } from '../../frontend/src/domain/stamp_words';
import vectors from '../vectors/stamp_words.json';

it.each(vectors.cases)('$name', ({ row, said, last }) => {
  const of = row as unknown as Parameters<typeof overtakenWords>[0];
  expect(overtakenWords(of)).toBe(said);
  expect(lastOvertaken(of)?.entry ?? null).toBe(last);
});
