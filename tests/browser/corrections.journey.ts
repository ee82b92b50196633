// A raised record is corrected: the reason is asked, the old value stays, struck through.
import { describe, expect, it } from 'vitest';
import { enrol, passQuestions, signIn } from './acts';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

describe('a correction after raising', () => {
  const stage = useStage('demo');

  it('asks why, and the history keeps the old value struck through', async () => {
    const { page, expected } = await stage.open('airframe');
    expected.push('/api/photographs/');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await page.goto('/airframe/B0015');
    const length = page.locator('.figure-cell', { hasText: 'Length' });
    await length.waitFor({ timeout: 40_000 });
    await passQuestions(page).catch(() => undefined);
    await length.click();
    await type(page, '6.1');
    await page.getByText('B/0015 is raised. Why is it changed?').waitFor();
    await expect
      .poll(() => page.locator('.correction-lines').innerText())
      .toMatch(/Length 5\.8 in 6\.1 in/);
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-correction');
    await page.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-correction-inside');
    // Left as it was: nothing is written.
    await page.getByRole('button', { name: 'LEAVE IT AS IT WAS' }).click();
    await expect.poll(() => length.innerText()).toContain('5.8');
    await length.click();
    await type(page, '6.1');
    await page.getByRole('button', { name: 'typed wrong' }).click();
    await page.locator('.correction-keys').waitFor({ state: 'detached' });
    await expect.poll(() => length.innerText()).toContain('6.1');
    await page.goto('/defects/B0015');
    const line = page.locator('.history li', { hasText: 'typed wrong' });
    await page.getByRole('button', { name: 'History', exact: true }).click();
    await line.waitFor();
    await expect.poll(() => line.locator('s').innerText()).toBe('5.8 in');
    await expect.poll(() => line.innerText()).toMatch(/corrected to 6\.1 in by Inspector 2/);
    await line.scrollIntoViewIfNeeded();
    await picture(page, 'journey-corrected-history');
  });

  it('is made at the desk too: the figure chosen, its reason asked, the old one struck through', async () => {
    const { page } = await stage.open('desk');
    await page.goto('/');
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.goto('/defects/A0016');
    await page.getByRole('button', { name: /^More/ }).click();
    await page.getByRole('button', { name: 'Correct a figure' }).click();
    const form = page.locator('.record-asked');
    await form.getByRole('button', { name: /^Length/ }).click();
    await page.getByLabel('What it is, in the unit shown').fill('6.5');
    const make = form.getByRole('button', { name: 'Correct a figure' });
    await make.click();
    await page.getByRole('alert').first().waitFor();
    await page.getByLabel('Reason').fill('typed wrong');
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-correction-desk');
    await make.click();
    await page.getByLabel('What it is, in the unit shown').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'History', exact: true }).click();
    const line = page.locator('.history li', { hasText: 'typed wrong' });
    await expect.poll(() => line.locator('s').innerText()).toBe('6 in');
    await expect.poll(() => line.innerText()).toMatch(/corrected to 6\.5 in by Lead/);
  });

  it('shows the book as at a day before, on screen and on paper, and changes nothing', async () => {
    const { page } = await stage.open('desk');
    await page.goto('/');
    await signIn(page, 'Records clerk');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.goto('/reports');
    const zone = page.locator('.zone-row', { has: page.locator('b', { hasText: '111' }) });
    await zone.waitFor();
    await page.getByLabel(/^As at/).fill('2025-10-01');
    // The day governs the report too: the same key, told with its day.
    await zone.click();
    const make = page.getByRole('button', { name: /^MAKE REPORT.*as at 1 October 2025/ });
    const [made] = await Promise.all([
      page.waitForEvent('download', { timeout: 120_000 }),
      make.click(),
    ]);
    expect(made.suggestedFilename()).toBe('zone-111-as-at-2025-10-01.pdf');
    await picture(page, 'journey-report-as-at');
    await page.getByRole('button', { name: /^SEE THE BOOK/ }).click();
    await page.getByRole('heading', { name: 'As at 1 October 2025' }).waitFor();
    await page.locator('.as-at-table tbody tr').first().waitFor({ timeout: 60_000 });
    const before = await page.locator('.as-at-table tbody tr').count();
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-as-at');
    await page.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-as-at-inside');
    await page.goto('/defects?as_at=2025-04-01');
    await page.getByRole('heading', { name: 'As at 1 April 2025' }).waitFor();
    await page.locator('.as-at-table tbody tr').first().waitFor({ timeout: 60_000 });
    await expect.poll(() => page.locator('.as-at-table tbody tr').count()).toBeLessThan(before);
    await page.getByRole('button', { name: 'THE BOOK AS IT STANDS' }).click();
    await page.getByText(/of 45 records/).waitFor();
  });

  async function type(page: Parameters<typeof signIn>[0], figure: string) {
    for (const one of figure)
      await page
        .locator('.pad')
        .getByRole('button', { name: one === '.' ? 'point' : one, exact: true })
        .click();
    await page.getByRole('button', { name: /^Next:/ }).click();
  }
});
