// A records clerk's report: choosing zones, watching it made, a reload on the way, files taken away.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { signIn } from './acts';
import { accessibilityProblems, picture, useStage } from './harness';

describe('the records clerk', () => {
  const stage = useStage('demo');

  it('chooses zones, has reports made over a reload, and fetches them', async () => {
    const { page } = await desk();
    await zoneRow(page, '111').click();
    await expect.poll(() => page.locator('.will-hold').innerText()).toContain('3 records, 1 open');
    await expect
      .poll(() => page.locator('.will-hold').innerText())
      .toContain('24 of 28 cells looked at');
    // The same by the drawing: 122 is chosen by touch, then let go in the list.
    await page.locator('.zone-patch', { hasText: /^122/ }).first().click();
    await isChosen(page, '122');
    await page.reload();
    await isChosen(page, '122');
    await page.getByRole('button', { name: /^MAKE 2 REPORTS/ }).click();
    await page.locator('.made-row').nth(1).waitFor();
    await page.reload();
    for (const zone of ['111', '122']) {
      const key = page.getByRole('button', { name: `FETCH PDF: report of zone ${zone}` });
      await key.waitFor({ timeout: 120_000 });
    }
    const fetched = page.waitForEvent('download', { timeout: 60_000 });
    await page.getByRole('button', { name: 'FETCH PDF: report of zone 111' }).click();
    const pdf = readFileSync(await (await fetched).path());
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    const row = page.locator('.made-row', { hasText: 'Zone 111' });
    const sha256 = createHash('sha256').update(pdf).digest('hex');
    await expect.poll(() => row.innerText()).toContain(`file ${sha256.slice(0, 16)}`);
    await expect.poll(() => row.innerText()).toMatch(/Records clerk · 4 sheets, .*, draft/);
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-reports');
    await page.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-reports-inside');
    await page.setViewportSize({ width: 800, height: 1280 });
    await picture(page, 'journey-reports-inside-upright');
    await page.evaluate(() => document.documentElement.setAttribute('data-light', 'outside'));
    await picture(page, 'journey-reports-upright');
    const wide = () => page.evaluate(() => document.documentElement.scrollWidth);
    await expect.poll(wide).toBeLessThanOrEqual(800);
  });

  it('takes the book away in three kinds, and one zone by itself', async () => {
    const { page } = await desk();
    const csv = (await taken(page, /^CSV/)).toString();
    expect(csv.split('\r\n')).toHaveLength(47);
    expect(csv).toContain('A/0002');
    await zoneRow(page, '111').click();
    const lines = (await taken(page, /^JSON LINES/)).toString().trimEnd().split('\n');
    expect(lines.map((line) => JSON.parse(line).number)).toEqual(['A/0001', 'A/0002', 'B/0015']);
    expect((await taken(page, /^XLSX/)).subarray(0, 2).toString()).toBe('PK');
  });

  it('says in plain words that a report was cancelled, and that the server is away', async () => {
    const device = await desk();
    const { page } = device;
    for (const zone of ['520', '221', '121', '122']) await zoneRow(page, zone).click();
    await page.getByRole('button', { name: /^MAKE 4 REPORTS/ }).click();
    // Of four at least the last still waits; it is the newest and stands on top.
    await page
      .getByRole('button', { name: /^CANCEL the report/ })
      .first()
      .click();
    await page.locator('.made-row', { hasText: 'cancelled' }).first().waitFor();
    device.expected.push('Failed to load resource', 'ERR_');
    await stage.server.kill();
    await page.reload();
    await page.getByText('The server is not reached.').waitFor();
    await zoneRow(page, '520').waitFor();
    await picture(page, 'journey-reports-away');
  });

  async function desk() {
    const device = await stage.open('desk');
    const { page } = device;
    await page.goto('/');
    await signIn(page, 'Records clerk');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.goto('/reports');
    await zoneRow(page, '111').waitFor();
    return device;
  }
});

function zoneRow(page: Page, zone: string) {
  return page.locator('.zone-row', { has: page.locator('b', { hasText: zone }) });
}

async function isChosen(page: Page, zone: string) {
  await expect.poll(() => zoneRow(page, zone).getAttribute('aria-pressed')).toBe('true');
}

async function taken(page: Page, key: RegExp): Promise<Buffer> {
  const download = page.waitForEvent('download', { timeout: 60_000 });
  await page.getByRole('button', { name: key }).click();
  return readFileSync(await (await download).path());
}
