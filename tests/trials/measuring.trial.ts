// The tablet's own finder over the pictures of the trial, raw grey files one after the other, and
// the error of a touch as the page records it.
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { cardIn } from '../../frontend/src/imaging/card_found';
import type { Pixels } from '../../frontend/src/imaging/card_markers';
import { tapOf } from '../../frontend/src/screens/measuring/placing';
import { cropsOf } from '../frontend/imaging/card_drawn';

const { TRIAL_GIVEN = '', TRIAL_RESULT = '' } = process.env;

/** A raw grey file, width and height in px. */
type Grey = [path: string, width: number, height: number];

interface Given {
  /** Each whole, and made small as a browser does it. */
  pictures: { whole: Grey; small: Grey }[];
  /** Px of a picture that one of the screen takes in. */
  screens_px: number[];
}

function greyFile([path, width, height]: Grey): Pixels {
  const grey = readFileSync(path);
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let at = 0; at < grey.length; at += 1) {
    data.fill(grey[at] as number, at * 4, at * 4 + 3);
  }
  return { width, height, data };
}

function tapBy(fine: boolean, screen_px: number): string {
  return tapOf([{ x: 0, y: 0, fine, grain: { screen_px, copy_px: 1 } }]);
}

it('finds the card in every picture, or says why not', async () => {
  const given = JSON.parse(readFileSync(TRIAL_GIVEN, 'utf8')) as Given;
  const cards: unknown[] = [];
  for (const { whole, small } of given.pictures) {
    const picture = greyFile(whole);
    try {
      cards.push(await cardIn(greyFile(small), picture, cropsOf(picture)));
    } catch (error) {
      cards.push({ code: (error as { code?: string }).code ?? String(error) });
    }
  }
  const finger = given.screens_px.map((screen_px) => tapBy(false, screen_px));
  const taps = { loupe: tapBy(true, 1), finger };
  writeFileSync(TRIAL_RESULT, JSON.stringify({ cards, taps }));
  expect(cards).toHaveLength(given.pictures.length);
});
