// Plays one schedule after the other on one server, and says which seed failed after which steps.
import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Bench } from './bench';
import { Schedule } from './schedule';

const STEPS = 40;

/** Declare a test that plays `count` schedules, of the seeds from `first` on. */
export function playSchedules(first: number, count: number): void {
  let bench: Bench;
  beforeAll(async () => {
    bench = await new Bench().start();
  }, 120_000);
  afterAll(() => bench.close(), 60_000);

  describe(`schedules of faults from FAULT_SEED=${first}`, () => {
    it('lose nothing acknowledged and end in one book everywhere', {
      timeout: 7_200_000,
    }, async () => {
      let faults = 0;
      const began = Date.now();
      for (let seed = first; seed < first + count; seed += 1) {
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
      console.info(
        `${count} schedules from ${first}: ${faults} faults of the network, ${took_s} s`,
      );
      expect(faults).toBeGreaterThan(count);
      const { FAULT_RESULT } = process.env;
      if (FAULT_RESULT) writeFileSync(FAULT_RESULT, JSON.stringify({ faults, took_s }));
    });
  });
}
