import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { enrol, photograph, signIn } from './acts';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

const key = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first();

/** Touches the photograph at a place in its own pixels (1600 × 1200). */
async function touch(page: Page, x: number, y: number): Promise<void> {
  const box = await page.locator('.detail-marks').boundingBox();
  if (!box) throw new Error('The photograph is not drawn.');
  const position = { x: (x / 1600) * box.width, y: (y / 1200) * box.height };
  await page.locator('.detail-marks').click({ position });
}

/** A picture in both lights. */
async function both(page: Page, name: string): Promise<void> {
  for (const light of ['inside', 'outside']) {
    await page.evaluate((now) => {
      document.documentElement.dataset.light = now;
    }, light);
    await picture(page, `${name}-${light}`);
  }
}

const readout = (page: Page) => page.locator('.readout').innerText();

describe('a length from a photograph, with the server away', () => {
  const stage = useStage('demo');

  it('is measured with a scale, becomes a figure, and is withdrawn with its scale', async () => {
    const { page } = await stage.open('airframe');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await stage.server.kill();
    const number = await photograph(page);
    await page.locator('.detail-picture img').waitFor();
    await key(page, /^MEASURE/).click();
    await key(page, 'Pitting').click();
    await page.locator('.figure-cell', { hasText: 'Length' }).waitFor();
    await page.goBack();
    await key(page, /^SCALE AND LENGTH/).click();
    await page.waitForURL(/\/measure$/);

    // Nothing has a length without a scale, and no picture ever has a depth.
    await expect.poll(() => readout(page)).toContain('No scale is set.');
    await key(page, /^DEPTH/).click();
    await expect.poll(() => readout(page)).toContain('Depth is never taken from a photograph');

    // Four corners touched crosswise are refused, and nothing is written.
    await key(page, /^SCALE/).click();
    await key(page, /^BANK CARD/).click();
    for (const [x, y] of [
      [420, 320],
      [1100, 800],
      [1100, 330],
      [440, 790],
    ] as const)
      await touch(page, x, y);
    await key(page, /^KEEP THE SCALE/).click();
    await page.locator('.error-frame', { hasText: 'out of order' }).waitFor();

    // Two points of a rule, 3.00 in.
    await key(page, /^SCALE/).click();
    await key(page, /^TWO POINTS/).click();
    for (const name of ['3', 'point', '0', '0'])
      await page.getByRole('button', { name, exact: true }).click();
    await picture(page, 'journey-scale-figure');
    await key(page, /^Next:|^NEXT/).click();
    await touch(page, 300, 1000);
    await touch(page, 1200, 1000);
    for (let times = 0; times < 3; times += 1) await key(page, /^RIGHT/).click();
    await page.locator('.loupe').waitFor();
    await picture(page, 'journey-scale');
    await key(page, /^KEEP THE SCALE/).click();
    await expect
      .poll(() => page.locator('.flag-words').allTextContents())
      .toContain('scale 3.00 ± 0.005 in');

    // Along a crack by finger, then under the loupe: the ± falls.
    await key(page, /^ALONG/).click();
    await touch(page, 600, 600);
    await touch(page, 740, 560);
    await touch(page, 860, 580);
    await expect.poll(() => readout(page)).toMatch(/0\.(8[789]|90)\d* ± 0\.0\d+ in along/);
    // 1600 px on fewer of the screen: a finger is as sure as the screen is fine.
    const wide = await page.locator('.detail-marks').evaluate((one) => one.clientWidth);
    const finger_px = (1600 / wide) * Math.hypot(1.5, 1 / Math.sqrt(12));
    expect(wide).toBeLessThan(1600);
    const said = Number((await readout(page)).match(/finger ([\d.]+) px/)?.[1]);
    expect(said).toBeGreaterThanOrEqual(finger_px);
    expect(said).toBeLessThan(finger_px + 0.2);
    expect(await readout(page)).toContain('Touched only: look at each point in the loupe.');
    const coarse = Number((await readout(page)).match(/± ([\d.]+) in along/)?.[1]);
    await page.reload();
    await expect.poll(() => readout(page)).toMatch(/0\.(8[789]|90)\d* ± 0\.0\d+ in along/);
    for (let point = 0; point < 3; point += 1) {
      await key(page, /^OTHER POINT/).click();
      await key(page, /^ON THE SPOT/).click();
    }
    await expect.poll(() => readout(page)).toContain('loupe 0.6 px');
    const fine = Number((await readout(page)).match(/± ([\d.]+) in along/)?.[1]);
    expect(fine).toBeLessThan(coarse);
    await expect.poll(() => readout(page)).toContain('sorting aid');
    await both(page, 'journey-along');
    expect(await accessibilityProblems(page)).toEqual([]);
    const kept = (
      await key(page, /^KEEP \d/)
        .locator('.key-label')
        .innerText()
    ).slice(5);
    await key(page, /^KEEP \d/).click();
    await key(page, /^USE AS LENGTH/).click();
    await expect.poll(() => key(page, /^USE AS LENGTH/).innerText()).toContain('is it now');
    await picture(page, 'journey-used');

    // Beyond two widths of the scale nothing is measured; an area is, and an outline is a mark; nobody placed a ring.
    await key(page, /^AREA/).click();
    for (const [x, y] of [
      [620, 700],
      [800, 690],
      [790, 820],
      [630, 810],
    ] as const)
      await touch(page, x, y);
    await expect.poll(() => readout(page)).toMatch(/± .* in²/);
    await key(page, /^KEEP \d/).click();

    // The keys act on the measurement that is told, which goes round.
    await expect.poll(() => key(page, /^USE AS LENGTH/).innerText()).toContain('an area is none');
    await key(page, /^OTHER FIGURE/).click();
    await expect.poll(() => readout(page)).toContain('along');
    await expect.poll(() => key(page, /^USE AS LENGTH/).innerText()).toContain('is it now');
    await expect
      .poll(() => page.locator('.flag-words').allTextContents())
      .toContain(`${kept} along`);
    await key(page, /^OUTLINE/).click();
    for (const [x, y] of [
      [900, 500],
      [1000, 480],
      [1010, 600],
    ] as const)
      await touch(page, x, y);
    await key(page, /^KEEP THE OUTLINE/).click();
    await expect.poll(() => page.locator('.wax-picture').count()).toBe(1);

    // The figure stands in the record with its ±, and where it came from.
    await key(page, /^BACK/).click();
    await page.waitForURL(/\/photograph\/[^/]+$/);
    await expect
      .poll(() => page.locator('.flag-words').allTextContents())
      .toContain(`${kept} along`);
    await both(page, 'journey-measured-picture');
    await page.goto(`/airframe/${number}`);
    const length = page.locator('.figure-cell', { hasText: 'Length' });
    await expect.poll(() => length.innerText()).toContain(kept.replace(' in', ''));
    expect(await length.innerText()).toContain('photograph');

    // Striking the scale withdraws what was measured with it, and the figure with that.
    await page.goBack();
    await key(page, /^SCALE AND LENGTH/).click();
    await page.waitForURL(/\/measure$/);
    await key(page, /^SCALE scale/).click();
    await expect
      .poll(() => key(page, /^STRIKE THE SCALE/).innerText())
      .toContain('2 measurements, 1 figure');
    await key(page, /^STRIKE THE SCALE/).click();
    await key(page, /^TWO POINTS/).waitFor();
    await page.goto(`/airframe/${number}`);
    await expect.poll(() => length.innerText()).toContain('scale withdrawn');
    await picture(page, 'journey-withdrawn');
  });
});
