import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { signIn } from './acts';
import { accessibilityProblems, picture, useStage } from './harness';

describe('the records clerk', () => {
  const stage = useStage('demo');

  it('makes the report of zone 111 and the CSV from the screen', async () => {
    const { page } = await stage.open('desk');
    await page.goto('/');
    await signIn(page, 'Records clerk');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.goto('/reports');
    await page.getByRole('button', { name: /^111/ }).click();
    await picture(page, 'journey-reports');
    expect(await accessibilityProblems(page)).toEqual([]);
    const report = page.waitForEvent('download', { timeout: 60_000 });
    await page.getByRole('button', { name: /^MAKE THE REPORT/ }).click();
    const pdf = readFileSync(await (await report).path());
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    const sheet = page.waitForEvent('download', { timeout: 60_000 });
    await page.getByRole('button', { name: /^ALL RECORDS/ }).click();
    const csv = readFileSync(await (await sheet).path(), 'utf8');
    expect(csv.split('\r\n')[0]).toContain('number');
    expect(csv).toContain('A/0002');
  });
});
