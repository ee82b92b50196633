// What a page of the browser fetches before the sheet at the airframe is ready, on a device that
// has nothing of the app yet but is enrolled; and all that is fetched ahead for use without network.
import { writeFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import type { Page, Response } from 'playwright-core';
import { expect, it } from 'vitest';
import { enrol, signIn } from '../browser/acts';
import { useStage, waitForOffline } from '../browser/harness';

const { TRIAL_RESULT = '' } = process.env;
const stage = useStage('demo');

/** Takes the app out of this browser again; its book stays. */
async function forgetApp(page: Page) {
  await page.evaluate(async () => {
    for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
    for (const name of await caches.keys()) await caches.delete(name);
  });
  const session = await page.context().newCDPSession(page);
  await session.send('Network.clearBrowserCache');
}

/** Size of a script as a server sends it that packs what it sends, bytes. */
const packed = (content: string | Buffer) => gzipSync(content).length;

it('loads the app for the first time', async () => {
  const { page } = await stage.open('airframe');
  await enrol(page, stage.server);
  await waitForOffline(page);
  await signIn(page, 'Inspector 1');
  await forgetApp(page);
  await page.close();
  const next = await page.context().newPage();
  const came: Response[] = [];
  next.on('response', (one) => {
    if (one.request().resourceType() === 'script' && !one.url().endsWith('/sw.js')) came.push(one);
  });
  await next.goto('/airframe', { waitUntil: 'commit' });
  await next.locator('.position-bar').waitFor();
  await next.locator('.k-shutter:not([aria-disabled])').waitFor();
  const before = [...came];
  expect(before.filter((one) => one.fromServiceWorker())).toEqual([]);
  const first = await Promise.all(before.map((one) => one.body()));
  const told = await (await fetch(`${stage.server.address}/sw.js`)).text();
  const names = [...new Set(told.match(/\/assets\/[\w.-]+\.js/g))];
  const every = await Promise.all(
    names.map(async (name) => (await fetch(stage.server.address + name)).text()),
  );
  expect(names.length).toBeGreaterThan(before.length);
  const sum = (all: (string | Buffer)[]) => all.reduce((bytes, one) => bytes + packed(one), 0);
  writeFileSync(
    TRIAL_RESULT,
    JSON.stringify({
      first_bytes: sum(first),
      first_files: first.length,
      every_bytes: sum(every),
      every_files: every.length,
    }),
  );
});
