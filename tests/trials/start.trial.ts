// A cold start with no server: from the navigation to the sheet at the airframe, painted, whose
// SHUTTER answers. Every run is a new process of the browser over the same profile.
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { allRead, fullTablet, type Slowness, slowDown, slowness } from './full_tablet';

const RUNS = 9;
const { TRIAL_RESULT = '' } = process.env;

interface Noted {
  /** Position bar and SHUTTER were painted. */
  painted_ms: number;
  /** How long the press of SHUTTER lay before the page turned to it. */
  waited_ms: number;
  /** The camera was asked for: the number is on the disk. */
  camera_ms: number;
}

declare global {
  interface Window {
    started: Partial<Noted>;
  }
}

/** The page notes by its own clock, which begins with the navigation. */
async function watch(page: Page) {
  await page.addInitScript(() => {
    window.started = {};
    const look = () => {
      const bar = document.querySelector('.position-bar');
      const key = document.querySelector('.k-shutter');
      if (!bar || !key || key.getAttribute('aria-disabled') === 'true')
        return void requestAnimationFrame(look);
      // What stands in the document now is on the screen after this frame.
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        window.started.painted_ms = performance.now();
      };
      port2.postMessage(null);
    };
    requestAnimationFrame(look);
    const click = ({ target, timeStamp }: MouseEvent) => {
      if (!(target instanceof Element)) return;
      const now_ms = performance.now();
      if (target.closest('.k-shutter')) window.started.waited_ms ??= now_ms - timeStamp;
      if (target.matches('input[type=file]')) window.started.camera_ms = now_ms;
    };
    addEventListener('click', click, { capture: true });
  });
}

async function start(page: Page): Promise<Noted & Slowness> {
  await watch(page);
  const session = await slowDown(page);
  const chooser = page.waitForEvent('filechooser');
  await page.goto('/airframe', { waitUntil: 'commit' });
  await page.waitForFunction(() => window.started.painted_ms, null, { polling: 20 });
  await page.locator('.k-shutter').click({ force: true });
  await chooser;
  await allRead(page);
  const noted = await page.evaluate(() => window.started as Noted);
  return { ...noted, ...(await slowness(page, session)) };
}

it('starts with no server', async () => {
  const profile = await fullTablet();
  const runs: (Noted & Slowness)[] = [];
  // The first start after the shell came is none of any later day, and is not counted.
  for (let run = 0; run <= RUNS; run += 1) {
    const { page, context, problems } = await profile.open();
    const noted = await start(page);
    if (run > 0) runs.push(noted);
    await page.waitForTimeout(2000);
    await context.close();
    expect(problems).toEqual([]);
  }
  await profile.remove();
  writeFileSync(TRIAL_RESULT, JSON.stringify(runs));
  expect(runs).toHaveLength(RUNS);
});
