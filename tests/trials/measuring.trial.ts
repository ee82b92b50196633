// The tablet's own finder over the pictures of the trial: raw grey files, one after the other.
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { cardIn } from '../../frontend/src/imaging/card_found';
import type { Pixels } from '../../frontend/src/imaging/card_markers';
import { cropsOf } from '../frontend/imaging/card_drawn';

const { TRIAL_GIVEN = '', TRIAL_RESULT = '' } = process.env;

function greyFile(path: string, width: number, height: number): Pixels {
  const grey = readFileSync(path);
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let at = 0; at < grey.length; at += 1) {
    data.fill(grey[at] as number, at * 4, at * 4 + 3);
  }
  return { width, height, data };
}

it('finds the card in every picture, or says why not', async () => {
  const given = JSON.parse(readFileSync(TRIAL_GIVEN, 'utf8')) as {
    files: string[];
    width: number;
    height: number;
  };
  const told: unknown[] = [];
  for (const path of given.files) {
    const picture = greyFile(path, given.width, given.height);
    try {
      told.push(await cardIn(picture, picture, cropsOf(picture)));
    } catch (error) {
      told.push({ code: (error as { code?: string }).code ?? String(error) });
    }
  }
  writeFileSync(TRIAL_RESULT, JSON.stringify(told));
  expect(told).toHaveLength(given.files.length);
});
