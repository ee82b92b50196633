import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { demoPerson, signIn, waiting } from './acts';
import { accessibilityProblems, picture, useStage } from './harness';

describe('the lead at the desk', () => {
  const stage = useStage('demo');

  async function desk(name: string): Promise<Page> {
    const { page } = await stage.open('desk');
    await page.goto('/');
    await signIn(page, name);
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.getByText('A/0002').first().waitFor({ timeout: 40_000 });
    return page;
  }

  it('reads one record on one sheet, with its reasons, history and stamps', async () => {
    const page = await desk('Lead');
    await page.goto('/defects/A0002');
    await page.getByRole('heading', { name: 'A/0002' }).waitFor();
    const sheet = page.locator('.record');
    await expect.poll(() => sheet.innerText()).toContain('loss 17.2 % > 10 % of 0.064 in');
    await expect.poll(() => sheet.innerText()).toContain('Raised by Inspector 1');
    const words = await sheet.innerText();
    expect(words).toContain('AL3');
    expect(words).toContain('zone 111');
    await expect.poll(() => page.locator('.detail-picture img').count()).toBeGreaterThan(0);
    await picture(page, 'journey-defect-book');
    expect(await accessibilityProblems(page)).toEqual([]);
  });

  it('assesses a raised record, and sees plain refusals for what is not theirs', async () => {
    const page = await desk('Lead');
    await page.goto('/defects/A0003');
    await page.getByRole('heading', { name: 'A/0003' }).waitFor();
    await page.getByRole('button', { name: 'Start work' }).click();
    await expect.poll(() => page.locator('.record-state').innerText()).toBe('IN WORK');
    await page.getByRole('button', { name: 'Re-assess' }).click();
    await page.locator('.strip').getByRole('button', { name: 'Re-assess' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Reason').fill('the patch needs a drawing first');
    await page.locator('.strip').getByRole('button', { name: 'Re-assess' }).click();
    await expect.poll(() => page.locator('.record-state').innerText()).toBe('ASSESSED');
    await expect.poll(() => waiting(page), { timeout: 40_000 }).toBe('Nothing waiting');
    const history = await page.locator('.history').innerText();
    expect(history).toContain('the patch needs a drawing first');
  });

  it('clears a record with an unsigned stamp after another did the work', async () => {
    const page = await desk('Lead');
    expect(demoPerson('Lead').passcode.length).toBeGreaterThan(3);
    await page.goto('/defects/A0001');
    await expect.poll(() => page.locator('.record-state').innerText()).toBe('CLEARED');
    await expect.poll(() => page.locator('.stamps svg').count()).toBeGreaterThan(0);
    expect(await page.locator('.stamps').innerText()).toContain('unsigned');
  });
});
