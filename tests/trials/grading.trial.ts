// Grading in a real browser: every round has records that were not seen before.
import { writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { Standard } from '../../frontend/src/domain/grading';
import { benchPage } from './bench';
import type * as Bench from './bench_page';

const { TRIAL_GIVEN = '', TRIAL_RESULT = '' } = process.env;

interface Given {
  bench: typeof Bench;
  given: { standard: Standard; rounds: Record<string, unknown>[][] };
}

it('grades rounds of records', async () => {
  const { page, close } = await benchPage(TRIAL_GIVEN);
  const rounds = await page.evaluate(() => {
    const { bench, given } = window as unknown as Given;
    const standard = bench.compileStandard(given.standard);
    return given.rounds.map((records) => {
      const began_ms = performance.now();
      let reasons = 0;
      for (const values of records) reasons += bench.grade(values, standard).fired.length;
      return { reasons, took_ms: performance.now() - began_ms };
    });
  });
  await close();
  writeFileSync(TRIAL_RESULT, JSON.stringify(rounds));
  expect(rounds.length).toBeGreaterThan(1);
});
