import { describe, expect, it } from 'vitest';
import { signIn } from './acts';
import { accessibilityProblems, picture, useStage } from './harness';

describe('the standard of acceptance', () => {
  const stage = useStage('demo');

  it('is given its next issue by the lead, and no record changes until it is graded again', async () => {
    const { page } = await stage.open('desk');
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL('**/defects');
    await page.goto('/airframes');
    await page.getByRole('button', { name: /^Standard of acceptance: QS-7 ISSUE 1/ }).click();
    await page.waitForURL('/standards');
    await page.getByRole('button', { name: /^Change row 6, AL2/ }).click();
    await page.getByLabel('Limit 2 ≤ (in)').fill('0.008');
    const told = page.locator('.standard-troubles');
    await expect.poll(() => told.innerText()).toContain('its words do not name 0.008');
    await page.getByLabel('Words of the limit').fill('depth over 0.001 in, to 0.008 in');
    await expect.poll(() => told.innerText()).toContain('just beyond 0.008 in is no row');
    await page.reload();
    await expect.poll(() => told.innerText()).toContain('just beyond 0.008 in is no row');
    for (const light of ['inside', 'outside'] as const) {
      await page.evaluate((chosen) => {
        localStorage.setItem('skinpin.light', chosen);
        document.documentElement.dataset.light = chosen;
      }, light);
      await picture(page, `standards-${light}`);
      expect(await accessibilityProblems(page)).toEqual([]);
    }
    await page.getByRole('button', { name: /^Change row 7, AL3/ }).click();
    await page.getByLabel('Limit > (in)').fill('0.008');
    await page.getByLabel('Words of the limit').fill('depth over 0.008 in');
    await page.getByLabel('Reason of this issue').fill('deeper than eight thou is severe here');
    await page.getByRole('button', { name: /^GIVE ISSUE 2/ }).click();
    const issues = page.locator('.standard-issues');
    await expect.poll(() => issues.innerText()).toMatch(/QS-7 issue 2\s+stands.*QS-7 issue 1/s);
    await expect.poll(() => page.locator('h1').innerText()).toBe('QS-7 issue 2');
    await page.goto('/airframes');
    await expect
      .poll(() => page.getByRole('button', { name: /^Standard of acceptance/ }).innerText())
      .toBe('QS-7 ISSUE 2');
    // Its depth is 0.011 in, graded by issue 1 until a lead grades it again.
    await page.goto('/defects/A0002');
    await expect.poll(() => page.getByText('QS-7 issue 1').count()).toBeGreaterThan(0);
    await page.getByRole('button', { name: /^More/ }).click();
    await expect.poll(() => page.getByRole('button', { name: 'Grade again' }).count()).toBe(1);
  });
});
