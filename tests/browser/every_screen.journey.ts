import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { ROUTES } from '../../frontend/src/routes';
import { enrol, sent, signIn } from './acts';
import { focusFaults, layoutFaults } from './faults';
import { accessibilityProblems, lasting, useStage } from './harness';

const LIGHTS = ['outside', 'inside'] as const;
const SIZES = [
  { width: 800, height: 1280 },
  { width: 1280, height: 800 },
];
/** What stands in an address where its pattern has a name. */
const NAMES: Record<string, string> = {
  ...{ number: 'A0002', stage: 'Stage 1', airframe: '2603', part: 'members', view: 'new' },
};

async function faultsOf(page: Page, address: string): Promise<string[]> {
  const found: string[] = [];
  for (const light of LIGHTS) {
    await page.evaluate((chosen) => localStorage.setItem('skinpin.light', chosen), light);
    for (const size of SIZES) {
      await page.setViewportSize(size);
      await page.goto(address);
      const faults = await notThere(page);
      faults.push(...(await accessibilityProblems(page)));
      faults.push(...(await lasting(() => layoutFaults(page))));
      if (light === 'outside') faults.push(...(await lasting(() => focusFaults(page))));
      const where = `${address} ${size.width} × ${size.height} ${light}`;
      found.push(...faults.map((fault) => `${where}: ${fault}`));
    }
  }
  return found;
}

/** Wait until everything on the sheet has come. */
async function notThere(page: Page): Promise<string[]> {
  const isThere = () =>
    document.querySelector('#app > *') !== null &&
    (location.pathname === '/sheet-furniture' || !document.querySelector('.loading'));
  await page.waitForLoadState('networkidle');
  return page.waitForFunction(isThere, undefined, { timeout: 20_000 }).then(
    () => [],
    () => ['still not there after 20 s'],
  );
}

/** A photograph of record A/0002, as this browser keeps it. */
function photographOf(page: Page): Promise<string> {
  return page.evaluate(async () => {
    const asked = <T>(request: IDBRequest<T>) =>
      new Promise<T>((done, fail) => {
        request.onsuccess = () => done(request.result);
        request.onerror = () => fail(request.error);
      });
    const { name } =
      (await indexedDB.databases()).find((one) => one.name?.startsWith('skinpin-')) ?? {};
    const store = await asked(indexedDB.open(name ?? ''));
    const tx = store.transaction(['rows', 'standing']);
    const rows = (await asked(tx.objectStore('rows').getAll())) as {
      record: string;
      number?: string;
      row?: { number: string };
    }[];
    const defect = rows.find((one) => JSON.stringify(one).includes('"A/0002"'))?.record ?? '';
    const photographs = (await asked(
      tx.objectStore('standing').index('kind').getAll('photograph'),
    )) as { record: string }[];
    store.close();
    return photographs.find((one) => JSON.stringify(one).includes(`"${defect}"`))?.record ?? '';
  });
}

describe('every screen, in both lights, upright and wide', () => {
  const demo = useStage('demo');
  const empty = useStage('empty');

  it('has nothing that cannot be read, touched, reached or understood', async () => {
    const { page } = await demo.open('airframe');
    await enrol(page, demo.server);
    await signIn(page, 'Lead');
    // The tablet signs in at the server behind the person's back: what it shows then is more.
    const who = () =>
      page.evaluate(async () => (await (await fetch('/api/session')).json()).person);
    await expect.poll(who, { timeout: 20_000 }).not.toBe(null);
    await sent(page);
    NAMES.photograph = await photographOf(page);
    const found: string[] = [];
    for (const { pattern } of ROUTES) {
      const address = pattern.replace(/\{(\w+)\}/g, (_, name: string) =>
        encodeURIComponent(NAMES[name] ?? ''),
      );
      expect(address, `no value is known for ${pattern}`).not.toMatch(/\/\/|\/$(?<!^\/)/);
      found.push(...(await faultsOf(page, address)));
    }
    expect(found).toEqual([]);
  }, 600_000);

  it('has none of it where the book is still empty', async () => {
    const { page } = await empty.open('desk');
    await page.goto('/set-up');
    expect(await faultsOf(page, '/set-up')).toEqual([]);
  }, 300_000);
});
