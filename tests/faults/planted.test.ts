// A machine that finds no planted fault proves little: each is planted, and schedules must find it.
// `FAULT_PLANTED=all` plants them all (trials/faults); without it those that are found soonest.
import { writeFileSync } from 'node:fs';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { Bench } from './bench';
import { PLANTS, plantHere, QUESTIONS } from './planted';
import { Schedule } from './schedule';

const STEPS = 40;
const MOST_SCHEDULES = 60;
const { FAULT_FROM = '1', FAULT_PLANTED, FAULT_RESULT } = process.env;
const FROM = Number(FAULT_FROM);
const SERVER = [
  'acknowledged before it is committed',
  'an entry lost where a page ends',
  'a photograph’s row forgotten',
  'the epoch of a restored backup kept',
  'a cursor believed',
  'a photograph kept unhashed',
  'a photograph joined before its last part',
  'an entry refused for its time',
  'what a late entry was named by forgotten',
  'a backup without its last entry',
];
const ALL = [...SERVER, ...Object.keys(PLANTS), ...Object.keys(QUESTIONS)];
/** Those that one of the first schedules finds; all of them are planted by trials/faults. */
const SOONEST = [
  'acknowledged before it is committed',
  'a photograph’s row forgotten',
  'a photograph joined before its last part',
  'a backup without its last entry',
  'a cut answer taken for a yes',
  'the cursor moved before its page is stored',
  'after a new epoch only its own offered',
  'after a new epoch no photograph asked about',
];
const found: Record<string, number> = {};

let bench: Bench;
let takeOut = () => {};
beforeAll(async () => {
  bench = await new Bench().start();
}, 60_000);
afterAll(() => bench.close(), 60_000);
afterEach(async () => {
  takeOut();
  takeOut = () => {};
  await bench.ask('plant', '');
});

async function plant(name: string): Promise<void> {
  if (SERVER.includes(name)) await bench.ask('plant', name);
  takeOut = plantHere(name);
}

/** Plays schedules until one fails; returns how many that took, or null. */
async function firstFound(): Promise<number | null> {
  for (let count = 1; count <= MOST_SCHEDULES; count += 1) {
    try {
      await new Schedule(bench, FROM + count - 1).play(STEPS);
    } catch {
      return count;
    }
  }
  return null;
}

describe(`a planted fault is found by schedules from FAULT_FROM=${FROM}`, () => {
  it('of the server, of which these are all', async () => {
    expect([...(await bench.ask<string[]>('plants'))].sort()).toEqual([...SERVER].sort());
  });

  it.each(FAULT_PLANTED === 'all' ? ALL : SOONEST)('%s', { timeout: 600_000 }, async (name) => {
    await plant(name);
    const count = await firstFound();
    expect(count).not.toBeNull();
    found[name] = count ?? 0;
  });

  it('and is gone again for those that follow', { timeout: 60_000 }, async () => {
    await new Schedule(bench, FROM).play(STEPS);
  });
});

afterAll(() => {
  console.info(found);
  if (FAULT_RESULT) writeFileSync(FAULT_RESULT, JSON.stringify(found));
});
