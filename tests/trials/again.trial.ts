// A tablet's book worked out again in a real browser, in the browser's own store.
import { writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type * as Page from './again_page';
import { benchPage } from './bench';

const { TRIAL_GIVEN = '', TRIAL_RESULT = '' } = process.env;

interface Given {
  bench: typeof Page;
  given: { records: number; runs: number };
}

it('works a book out again', async () => {
  const { page, close } = await benchPage(TRIAL_GIVEN, 'again_page.ts');
  const took = await page.evaluate(() => {
    const { bench, given } = window as unknown as Given;
    return bench.measure(given.records, given.runs);
  });
  await close();
  writeFileSync(TRIAL_RESULT, JSON.stringify(took));
  expect([took.differing, took.rows]).toEqual([0, took.raised]);
});
