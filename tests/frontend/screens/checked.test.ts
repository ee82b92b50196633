import { expect, it } from 'vitest';
import { checkedWords } from '../../../frontend/src/screens/measuring/checked';

it.each([
  [{ apart_px: 0.31 }, true, 're-checked by the server, 0.3 px apart'],
  [{ apart_px: 7.2 }, true, 'the server finds it 7.2 px off, check the scale'],
  [{ refused: { code: 'no_card' } }, true, 'the server does not find it, check the scale'],
  [{ refused: { code: 'no_such_photograph' } }, true, 'not yet re-checked by the server'],
  [null, true, 'the server looks too …'],
  [null, false, 'not yet re-checked by the server'],
])('says of %j, online %s: %s', (told, online, words) => {
  expect(checkedWords(told, online)).toBe(`scale card: ${words}`);
});
