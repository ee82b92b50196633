// An empty tablet is enrolled in a large book: how long until it holds it, and what that takes.
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { newProfile } from '../browser/profile';
import type { Server } from '../browser/server';

const { TRIAL_ADDRESS = '', TRIAL_CODE = '', TRIAL_RESULT = '', TRIAL_ENTRIES } = process.env;
const WANTED = Number(TRIAL_ENTRIES);
const LOOK_EVERY_MS = 250;

const server: Server = {
  ...{ address: TRIAL_ADDRESS, folder: '', log: () => '', isRunning: () => true },
  wasKilled: () => false,
  ...{ kill: async () => {}, restart: async () => {}, close: async () => {} },
};

/** How many entries the store of this browser's book holds. */
function entriesHeld(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const bases = await indexedDB.databases();
    const name = bases.find((one) => one.name?.startsWith('skinpin-'))?.name;
    if (!name) return 0;
    const settled = <T>(asked: IDBRequest<T>) =>
      new Promise<T>((done, failed) => {
        asked.onsuccess = () => done(asked.result);
        asked.onerror = () => failed(asked.error);
      });
    const base = await settled(indexedDB.open(name));
    try {
      return await settled(base.transaction('entries').objectStore('entries').count());
    } finally {
      base.close();
    }
  });
}

it('takes a large book in for the first time', { timeout: 900_000 }, async () => {
  const profile = newProfile(server);
  try {
    const { page } = await profile.open();
    const session = await page.context().newCDPSession(page);
    await page.goto('/enrol');
    await page.getByLabel('One-time code').fill(TRIAL_CODE);
    const began = performance.now();
    await page.getByRole('button', { name: /^ENROL AS A TABLET/ }).click();
    let [entries, heap_bytes] = [0, 0];
    while (entries < WANTED) {
      await new Promise((done) => setTimeout(done, LOOK_EVERY_MS));
      entries = await entriesHeld(page);
      const { usedSize } = await session.send('Runtime.getHeapUsage');
      heap_bytes = Math.max(heap_bytes, usedSize);
    }
    const took_s = (performance.now() - began) / 1000;
    const stored = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
    expect(entries).toBeGreaterThanOrEqual(WANTED);
    const told = { entries, took_s, heap_mb: heap_bytes / 1e6, stored_mb: stored / 1e6 };
    writeFileSync(TRIAL_RESULT, JSON.stringify(told));
  } finally {
    await profile.remove();
  }
});
