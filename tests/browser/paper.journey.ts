// The day all tablets are flat: a form printed, lines typed by the keyboard alone, a register read in.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { calm, signIn } from './acts';
import { accessibilityProblems, picture, useStage } from './harness';

const HEADINGS = 'paper_number,found_by,found_on,structure,hand,position,strakes,kind,depth';

describe('paper', () => {
  const stage = useStage('demo');
  const folder = mkdtempSync(join(tmpdir(), 'paper-'));
  afterAll(() => rmSync(folder, { recursive: true }));

  it('is entered line by line by the keyboard, faults named, and read in as a register', async () => {
    const { page } = await stage.open('desk');
    await page.goto('/');
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.goto('/reports');
    await calm(page);
    await page.getByRole('button', { name: /^PAPER/ }).click();
    await page.waitForURL('/paper');
    const form = page.waitForEvent('download', { timeout: 60_000 });
    await page.getByRole('button', { name: /^THE FORM TO PRINT/ }).click();
    expect(
      readFileSync(await (await form).path())
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');

    // One line by the keyboard alone: typed, TAB, … , ENTER.
    await page.getByLabel('Number on the paper').focus();
    const line = ['17', 'Inspector 2', '2025-10-01', 'Hull', 'port', 'F6 + 2.0', 'K-B1', 'inner'];
    for (const word of [
      ...line,
      'pitting',
      'AL',
      'bottom plating',
      '0.064 in',
      '5.5',
      '2',
      'deep',
    ]) {
      await page.keyboard.type(word);
      await page.keyboard.press('Tab');
    }
    await page.keyboard.type('yes');
    await page.keyboard.press('Enter');
    await page.getByText(/“deep” is no figure/).waitFor();
    await expect
      .poll(() => page.evaluate(() => (document.activeElement as HTMLInputElement).name))
      .toBe('depth');
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-paper-fault');
    await page.keyboard.type('0.011');
    await page.keyboard.press('Enter');
    const stored = page.locator('.paper-stored li').first();
    await stored.waitFor();
    const number = await stored.locator('b').innerText();
    expect(number).toMatch(/^[A-Z]\/0001$/);
    // The next line keeps what stays and counts the paper's number on.
    await expect.poll(() => page.getByLabel('Number on the paper').inputValue()).toBe('18');
    await expect.poll(() => page.getByLabel('Found by').inputValue()).toBe('Inspector 2');
    await expect.poll(() => page.getByLabel('Depth, deepest pit').inputValue()).toBe('');

    // A register: first with a fault, then whole, then once more.
    const file = join(folder, 'register.csv');
    writeFileSync(file, `${HEADINGS}\n1,Lead,2025-09-01,Hull,port,F8 + 1,K-B1,pitting,deep\n`);
    await page.getByLabel('Register as CSV').setInputFiles(file);
    await page.getByText('Nothing was stored: 1 fault.').waitFor();
    await expect.poll(() => page.locator('.paper-troubles tbody').innerText()).toMatch(/2\s+depth/);
    await picture(page, 'journey-paper-register');
    writeFileSync(file, `${HEADINGS}\n1,Lead,2025-09-01,Hull,port,F8 + 1,K-B1,pitting,0.010\n`);
    for (const [there, words] of [
      ['1 new', /1 new, 0 here already/],
      ['0 new', /0 new, 1 here already/],
    ] as const) {
      await page.getByLabel('Register as CSV').setInputFiles(file);
      await page.getByText(words).waitFor();
      await expect.poll(() => page.locator('.paper-register').innerText()).toContain(there);
    }
    expect(await accessibilityProblems(page)).toEqual([]);
    await page.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-paper-inside');
    await page.goto(`/defects/${number.replace('/', '')}`);
    await page.getByRole('heading', { name: number }).waitFor({ timeout: 40_000 });
  });
});
