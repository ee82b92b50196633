// Pairs in a real browser: a long book in turn, and a short one that is checked by trying all.
import { writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { PairRow } from '../../frontend/src/domain/pairs_spots';
import type { Definition } from '../../frontend/src/domain/place';
import { benchPage } from './bench';
import type * as Bench from './bench_page';

const { TRIAL_GIVEN = '', TRIAL_RESULT = '' } = process.env;

type Book = [rows: PairRow[], definition: Definition];

interface Given {
  bench: typeof Bench;
  given: { many: Book; few: Book; runs: number };
}

it('finds the pairs of a long book', async () => {
  const { page, close } = await benchPage(TRIAL_GIVEN);
  const found = await page.evaluate(() => {
    const { bench, given } = window as unknown as Given;
    const few = bench.pairs(...given.few).map((one) => [one.query, ...[...one.records].sort()]);
    const took_ms: number[] = [];
    let count = 0;
    for (let run = 0; run < given.runs; run += 1) {
      const began_ms = performance.now();
      count = bench.pairs(...given.many).length;
      took_ms.push(performance.now() - began_ms);
    }
    return { few, count, took_ms };
  });
  await close();
  writeFileSync(TRIAL_RESULT, JSON.stringify(found));
  expect(found.few.length).toBeGreaterThan(0);
});
