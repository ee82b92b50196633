import { expect, it } from 'vitest';
import { checkedWords } from '../../../frontend/src/screens/measuring/checked';

/** Corners of a card whose diagonal is so many px. */
const cardOf = (diagonal_px: number) =>
  [
    [0, 0],
    [diagonal_px * 8, 0],
    [diagonal_px * 8, diagonal_px * 6],
    [0, diagonal_px * 6],
  ] as const;

it.each([
  [{ apart_px: 0.31 }, true, 're-checked by the server, 0.3 px apart'],
  [{ apart_px: 7.2 }, true, 'the server finds it 7.2 px off, check the scale'],
  [{ refused: { code: 'no_card' } }, true, 'the server does not find it, check the scale'],
  [{ refused: { code: 'no_such_photograph' } }, true, 'not yet re-checked by the server'],
  [null, true, 'the server looks too …'],
  [null, false, 'not yet re-checked by the server'],
])('says of %j, online %s: %s', (told, online, words) => {
  expect(checkedWords(told, online, cardOf(900))).toBe(`scale card: ${words}`);
});

it('a card of many pixels may be told apart by a thousandth of its diagonal', () => {
  const words = (apart_px: number) => checkedWords({ apart_px }, true, cardOf(4000));
  expect(words(3.9)).toBe('scale card: re-checked by the server, 3.9 px apart');
  expect(words(4.1)).toContain('4.1 px off');
});
