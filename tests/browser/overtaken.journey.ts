// What no longer holds is said where it is shown: a stamp overtaken by a length measured after it,
// and a figure whose scale was struck on another device meanwhile.
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { enrol, sendNow, sent, signIn } from './acts';
import { accessibilityProblems, picture, type Stage, useStage, waitForOffline } from './harness';

const key = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first();
const sheet = (page: Page) => page.locator('.record').innerText();

async function tablet(stage: Stage) {
  const { page, context } = await stage.open('airframe');
  await enrol(page, stage.server);
  await waitForOffline(page);
  await signIn(page, 'Inspector 2');
  await page.getByText(/SHELL EXPANSION/).waitFor();
  return { page, context };
}

async function desk(stage: Stage): Promise<Page> {
  const { page } = await stage.open('desk');
  await page.goto('/');
  await signIn(page, 'Lead');
  await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
  await page.waitForURL(/\/defects/);
  await page.getByText('A/0002').first().waitFor();
  await sent(page);
  return page;
}

/** How a text is ruled: struck through or not. */
const lineOf = (text: Locator) => text.evaluate((one) => getComputedStyle(one).textDecorationLine);

/** Opens scale and length of the first photograph of a record; returns the address. */
async function toScale(page: Page, number: string): Promise<string> {
  await page.goto(`/airframe/${number}`);
  await page.locator('.measure-pictures a').first().click();
  await page.waitForURL(/\/photograph\/[^/]+$/);
  await key(page, /^SCALE AND LENGTH/).click();
  await page.waitForURL(/\/measure$/);
  return new URL(page.url()).pathname;
}

/** Touches the photograph at shares of its width and height. */
async function touch(page: Page, x: number, y: number): Promise<void> {
  const box = await page.locator('.detail-marks').boundingBox();
  if (!box) throw new Error('The photograph is not drawn.');
  await page.locator('.detail-marks').click({ position: { x: x * box.width, y: y * box.height } });
}

/** A scale of 3.00 in on two points, and a length along it, near the left edge. */
async function measure(page: Page): Promise<void> {
  await key(page, /^SCALE/).click();
  await key(page, /^TWO POINTS/).click();
  for (const name of ['3', 'point', '0', '0'])
    await page.getByRole('button', { name, exact: true }).click();
  await key(page, /^Next:|^NEXT/).click();
  await touch(page, 0.2, 0.8);
  await touch(page, 0.8, 0.8);
  await key(page, /^KEEP THE SCALE/).click();
  await key(page, /^ALONG/).click();
  await touch(page, 0.1, 0.5);
  await touch(page, 0.3, 0.5);
  await key(page, /^KEEP \d/).click();
  await expect.poll(() => key(page, /^USE AS/).count()).toBeGreaterThan(0);
}

/** Axe and a picture of the page in both lights. */
async function looked(page: Page, name: string): Promise<void> {
  for (const light of ['outside', 'inside']) {
    await page.evaluate((chosen) => {
      document.documentElement.dataset.light = chosen;
    }, light);
    expect(await accessibilityProblems(page), `${name}, ${light}`).toEqual([]);
    await picture(page, `overtaken-${name}-${light}`);
  }
}

describe('what no longer holds', () => {
  const stage = useStage('demo');

  it('a stamp overtaken by a length says so on tablet and desk, with what to do', async () => {
    const { page } = await tablet(stage);
    const at_desk = await desk(stage);
    await at_desk.goto('/defects/A0001');
    await expect.poll(() => at_desk.locator('.record-state').innerText()).toBe('CLEARED');
    expect(await sheet(at_desk)).not.toContain('does not hold');

    await toScale(page, 'A0001');
    await measure(page);
    const said = /INSPECTED stamp \d+ of \d{4}-\d\d-\d\d does not hold: a scale, a length/;
    await page.goto('/airframe/A0001');
    await expect.poll(() => page.locator('.overtaken-line').innerText()).toMatch(said);
    expect(await page.locator('.overtaken-line').innerText()).toContain('Inspect and stamp again.');
    await looked(page, 'tablet-stamp');
    await sendNow(page);

    await at_desk.goto('/waiting');
    await sendNow(at_desk);
    await at_desk.goto('/defects/A0001');
    await expect
      .poll(() => at_desk.locator('.record-state').innerText())
      .toBe('OFFERED FOR INSPECTION');
    await expect.poll(() => at_desk.locator('.overtaken-line').innerText()).toMatch(said);
    await looked(at_desk, 'desk-stamp-first');
    await key(at_desk, /^Stamps/).click();
    await expect
      .poll(() => at_desk.locator('.stamps').innerText())
      .toContain('scale, length or lamp changed since');
    await looked(at_desk, 'desk-stamps');
  });

  it('a figure whose scale was struck elsewhere is struck through in its cells', async () => {
    const { page, context } = await tablet(stage);
    const at_desk = await desk(stage);
    const address = await toScale(page, 'A0002');
    await measure(page);
    await sendNow(page);
    await page.goto(address);
    await key(page, /^USE AS LENGTH/).waitFor();
    await at_desk.goto('/waiting');
    await sendNow(at_desk);

    // The tablet is out of reach: it uses what the desk strikes meanwhile.
    await context.setOffline(true);
    await at_desk.goto(address);
    await key(at_desk, /^SCALE scale/).click();
    await key(at_desk, /^STRIKE THE SCALE/).click();
    await key(at_desk, /^TWO POINTS/).waitFor();
    await sendNow(at_desk);
    await key(page, /^USE AS LENGTH/).click();
    await expect.poll(() => key(page, /^USE AS LENGTH/).innerText()).toContain('is it now');
    await page.goto('/defects/A0002');
    await expect
      .poll(() => sheet(page))
      .toContain('length measured from the photograph: sorting aid.');
    expect(await sheet(page)).toContain('Not corrected for tilt');
    expect(await sheet(page)).toContain('In the outer 15 % of the picture');
    await page.getByText('measured from the photograph').scrollIntoViewIfNeeded();
    await looked(page, 'tablet-warnings');

    await context.setOffline(false);
    await sendNow(page);
    await page.goto('/airframe/A0002');
    const cell = page.locator('.figure-cell', { hasText: 'Length' });
    await expect.poll(() => cell.innerText()).toContain('scale withdrawn');
    expect(await cell.locator('.struck').innerText()).toMatch(/± 0\.\d+/);
    expect(await lineOf(cell.locator('.struck'))).toBe('line-through');
    await looked(page, 'tablet-cell');
    await at_desk.goto('/waiting');
    await sendNow(at_desk);
    await at_desk.goto('/defects/A0002');
    await expect.poll(() => at_desk.locator('.figure-lines .struck').count()).toBe(1);
    const line = at_desk.locator('.figure-lines .struck');
    expect(await lineOf(line)).toBe('line-through');
    await line.scrollIntoViewIfNeeded();
    await expect.poll(() => sheet(at_desk)).toContain('scale withdrawn');
    expect(await sheet(at_desk)).not.toContain('measured from the photograph');
    await looked(at_desk, 'desk-cell');
  });
});
