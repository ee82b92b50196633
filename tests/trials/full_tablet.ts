// A tablet that has taken a book of thousands of records in and holds a person signed in; from then
// on it is alone. Its processor is slowed down as that of a plain tablet is.
import type { CDPSession, Page } from 'playwright-core';
import { waitForOffline } from '../browser/harness';
import { newProfile, type Profile } from '../browser/profile';
import type { Server } from '../browser/server';

const { TRIAL_ADDRESS = '', TRIAL_CODE = '', TRIAL_PASSCODE = '' } = process.env;
const [PROCESS, RECORDS] = [process.env.TRIAL_PROCESS, process.env.TRIAL_RECORDS].map(Number);
const SLOWER = 4;

/** Enrols a tablet, waits until it holds every record, then ends the server. */
export async function fullTablet(): Promise<Profile> {
  let running = true;
  const server: Server = {
    ...{ address: TRIAL_ADDRESS, folder: '', log: () => '', isRunning: () => running },
    wasKilled: () => !running,
    kill: async () => {
      running = false;
      process.kill(PROCESS as number, 'SIGKILL');
    },
    restart: () => Promise.reject(new Error('The server of a trial is not started again.')),
    close: async () => {},
  };
  const profile = newProfile(server);
  const { page, context } = await profile.open();
  await enrol(page);
  await page.waitForFunction(holds, RECORDS as number, { timeout: 300_000, polling: 1000 });
  await waitForOffline(page);
  await page.goto('/airframe');
  await allRead(page);
  // Into the middle of the hull, where records lie on both sides.
  for (let bays = 0; bays < 8; bays += 1) await page.getByRole('button', { name: /^AFT/ }).click();
  // The shell is fetched and kept whole by now, and the place is stored.
  await page.waitForTimeout(6000);
  await server.kill();
  await context.close();
  return profile;
}

async function enrol(page: Page): Promise<void> {
  await page.goto('/enrol');
  await page.getByLabel('One-time code').fill(TRIAL_CODE);
  await page.getByRole('button', { name: /^ENROL AS A TABLET/ }).click();
  await page.waitForURL((url) => url.pathname === '/', { timeout: 300_000 });
  await page.getByRole('button', { name: /^Trial lead/ }).click();
  for (const figure of TRIAL_PASSCODE)
    await page.getByRole('button', { name: figure, exact: true }).click();
  await page.getByRole('button', { name: /^SIGN IN/ }).click();
  await page.waitForURL((url) => url.pathname !== '/');
}

/** Whether the book of this browser has so many rows. */
async function holds(records: number): Promise<boolean> {
  const bases = await indexedDB.databases();
  const name = bases.find((one) => one.name?.startsWith('skinpin-'))?.name;
  if (!name) return false;
  const base = await new Promise<IDBDatabase>((done, fail) => {
    const asked = indexedDB.open(name);
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
  const count = await new Promise<number>((done) => {
    const asked = base.transaction(['rows']).objectStore('rows').count();
    asked.onsuccess = () => done(asked.result);
  });
  base.close();
  return count >= records;
}

/** Waits until the sheet at the airframe has read the book. */
export async function allRead(page: Page): Promise<void> {
  await page.waitForFunction(
    () =>
      document.querySelector('.k-shutter') &&
      !/reading the book/i.test(document.querySelector('#app')?.textContent ?? ''),
    null,
    { timeout: 120_000 },
  );
}

/** Slows the page's processor down; what the browser does elsewhere is as fast as ever. */
export async function slowDown(page: Page): Promise<CDPSession> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  return session;
}

/** What the same work takes the page slowed down and not, in turn: whether it was slowed at all. */
export interface Slowness {
  slow_ms: number;
  plain_ms: number;
}

export async function slowness(page: Page, session: CDPSession): Promise<Slowness> {
  const took = { slow_ms: 0, plain_ms: 0 };
  for (let round = 0; round < 4; round += 1) {
    took.slow_ms += await page.evaluate(workMs);
    await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    took.plain_ms += await page.evaluate(workMs);
    await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  }
  return took;
}

function workMs(): number {
  const began_ms = performance.now();
  let sum = 0;
  for (let at = 0; at < 40_000_000; at += 1) sum += at % 7;
  return performance.now() - began_ms + sum * 0;
}
