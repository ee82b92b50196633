// Thousands of days on five tablets over a bad network; `FAULT_SEED` plays one schedule again.
import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Bench } from './bench';
import { Schedule } from './schedule';

const { FAULT_SEED, FAULT_SCHEDULES = '200', FAULT_FROM = '20251103', FAULT_RESULT } = process.env;
const COUNT = FAULT_SEED ? 1 : Number(FAULT_SCHEDULES);
const FROM = Number(FAULT_SEED ?? FAULT_FROM);
const STEPS = 40;

let bench: Bench;
beforeAll(async () => {
  bench = await new Bench().start();
}, 60_000);
afterAll(() => bench.close(), 60_000);

describe(`schedules of faults from FAULT_SEED=${FROM}`, () => {
  it('lose nothing acknowledged and end in one book everywhere', {
    timeout: 7_200_000,
  }, async () => {
    let faults = 0;
    const began = Date.now();
    for (let seed = FROM; seed < FROM + COUNT; seed += 1) {
      const schedule = new Schedule(bench, seed);
      try {
        await schedule.play(STEPS);
      } catch (cause) {
        const played = schedule.played.join(' · ');
        throw new Error(`FAULT_SEED=${seed}, after ${played}\n${cause}`, { cause });
      }
      faults += schedule.net.faults;
    }
    const took_s = ((Date.now() - began) / 1000).toFixed(1);
    console.info(`${COUNT} schedules from ${FROM}: ${faults} faults of the network, ${took_s} s`);
    expect(faults).toBeGreaterThan(COUNT);
    if (FAULT_RESULT) writeFileSync(FAULT_RESULT, JSON.stringify({ faults, took_s }));
  });
});
