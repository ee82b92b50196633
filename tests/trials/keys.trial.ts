// Keys pressed one after the other on a slow tablet with a full book: from the press to the paint
// that shows what it did, by the browser's own event timing (in steps of 8 ms).
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { photograph } from '../browser/acts';
import { allRead, fullTablet, slowDown, slowness } from './full_tablet';

const TIMES = 24;
/** A person's pace; the next press does not fall into the work of the last. */
const APART_MS = 400;
const { TRIAL_RESULT = '' } = process.env;

declare global {
  interface Window {
    pressed: Map<number, number>;
  }
}

/** The page notes the longest event of every press; what is not told took less than 16 ms. */
async function watch(page: Page) {
  await page.addInitScript(() => {
    window.pressed = new Map();
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as PerformanceEventTiming[]) {
        const press = (entry as PerformanceEventTiming & { interactionId?: number }).interactionId;
        if (press)
          window.pressed.set(press, Math.max(entry.duration, window.pressed.get(press) ?? 0));
      }
    }).observe({ type: 'event', durationThreshold: 16, buffered: true } as PerformanceObserverInit);
  });
}

/** How long each of some presses took, ms. */
async function timed(page: Page, presses: (() => Promise<void>)[]): Promise<number[]> {
  const took_ms: number[] = [];
  for (const press of presses) {
    await page.evaluate(() => window.pressed.clear());
    await press();
    await page.waitForTimeout(APART_MS);
    const told = await page.evaluate(() => [...window.pressed.values()]);
    took_ms.push(Math.max(16, ...told));
  }
  return took_ms;
}

const times = (press: (at: number) => Promise<void>) =>
  Array.from({ length: TIMES }, (_, at) => () => press(at));

/** Answers what a kind may ask before the number pad comes: another hand, an instrument. */
async function passQuestions(page: Page) {
  const keys = page.locator('.sheet-keys');
  const asked = keys.getByRole('button', { name: /^(NEXT ►\s*none|KEEP)/ }).first();
  const pad = page.locator('.pad');
  for (let passed = 0; passed < 3; passed += 1) {
    await pad.or(asked).first().waitFor();
    if ((await pad.count()) > 0) return;
    await asked.click();
    await page.waitForTimeout(1500);
  }
}

/** The button by its words, without a look whether anything covers it: the press is what is timed. */
const touch = (page: Page, name: string | RegExp) =>
  page.getByRole('button', { name, exact: typeof name === 'string' }).click({ force: true });

it('answers its keys', async () => {
  const profile = await fullTablet();
  const { page, problems } = await profile.open();
  await watch(page);
  await page.goto('/airframe');
  await allRead(page);
  const session = await slowDown(page);
  await page.waitForTimeout(5000);
  const took_ms: Record<string, number[]> = {};
  took_ms['AFT and FWD, the drawing moves'] = await timed(
    page,
    times((at) => touch(page, at % 8 < 4 ? /^AFT/ : /^FWD/)),
  );
  took_ms['TO CHINE and TO KEEL'] = await timed(
    page,
    times((at) => touch(page, at % 2 ? /^TO KEEL/ : /^TO CHINE/)),
  );
  const number = await photograph(page);
  await page.goto(`/airframe/${number}`);
  await page.locator('.kind-keys').waitFor();
  await page.waitForTimeout(3000);
  took_ms['a kind'] = await timed(page, [() => touch(page, 'Pitting')]);
  await page.locator('.figure-cell', { hasText: 'Plate thickness' }).click();
  await passQuestions(page);
  took_ms['figures of the number pad'] = await timed(
    page,
    times((at) => touch(page, at % 4 === 0 ? 'point' : String(at % 4))),
  );
  await page.goto('/defects');
  await page.locator('.list-row').first().waitFor();
  await page.waitForTimeout(8000);
  took_ms['arrow keys in the list'] = await timed(
    page,
    times((at) => page.keyboard.press(at % 8 < 6 ? 'ArrowDown' : 'ArrowUp')),
  );
  const slow = await slowness(page, session);
  expect(problems).toEqual([]);
  await profile.remove();
  writeFileSync(TRIAL_RESULT, JSON.stringify({ took_ms, slow }));
});
