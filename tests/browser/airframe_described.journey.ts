// What the screen of a description says back: names that stand already, clashes, and where a trouble is.
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { signIn } from './acts';
import { accessibilityProblems, picture, useStage } from './harness';

const focused = (one: Locator) =>
  expect.poll(() => one.evaluate((it) => it === document.activeElement)).toBe(true);

/** Types the cells of a line that begins at a cell. */
async function line(page: Page, first: Locator, ...cells: string[]) {
  await first.focus();
  for (const [at, cell] of cells.entries()) {
    if (at > 0) await page.keyboard.press('Tab');
    if (cell !== '') await page.keyboard.insertText(cell);
  }
}

describe('a description that has faults', () => {
  const stage = useStage('demo');

  it('is told of them by name, and leads to each', async () => {
    const { page } = await stage.open('desk');
    const first = (label: RegExp) => page.getByLabel(label).first();
    const troubles = page.locator('.part-troubles');
    const typed = page.locator('.part-typed');
    const both = async (name: string) => {
      for (const light of ['inside', 'outside']) {
        await page.evaluate(
          (one) => document.documentElement.setAttribute('data-light', one),
          light,
        );
        await picture(page, `described-${name}-${light}`);
      }
    };
    await page.setViewportSize({ width: 1280, height: 800 });
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.goto('/airframes/new');
    await page.getByLabel('Type').fill('Sedge 2');
    await page.getByLabel('Constructor’s number').fill('4418');
    await both('about');

    // The second wing before there are members, and again when they are there.
    await page.goto('/airframes/new/structures');
    await line(page, first(/^Structure, structure 1/), 'Hull', 'P S C', '', '', 'aft', 'stem');
    await line(
      page,
      first(/^Structure, structure 2/),
      'Port wing',
      'P',
      'WS',
      '',
      'outboard',
      'centreline',
      'upper, lower',
    );
    const other = page.getByRole('button', { name: /^THE SAME FOR THE OTHER HAND/ });
    expect(await other.innerText()).toContain('no members yet');
    await other.click();
    await page.goto('/airframes/new/members?structure=Port+wing');
    await typed.getByRole('textbox').fill('R1 300\nR6 29O0');
    await page.keyboard.press('Control+Enter');
    await typed.getByText('“29O0” is no figure: R6 has no station that can be read.').waitFor();
    await typed.getByRole('textbox').fill('R1 300\nR6 2900');
    await page.keyboard.press('Control+Enter');
    await page.getByText('INBOARD TO THE LEFT, OUTBOARD TO THE RIGHT').waitFor();
    const left = async (name: string) =>
      (await page.locator('.station-scale text', { hasText: name }).first().boundingBox())?.x ?? 0;
    expect(await left('R1')).toBeLessThan(await left('R6'));
    await both('port-wing');
    await page.goto('/airframes/new/structures');
    await first(/^Structure, structure 2/).focus();
    await expect.poll(() => other.innerText()).toContain('2 members');
    await other.click();
    await expect.poll(() => other.innerText()).toContain('has the same');
    // TAB takes the text of a cell as a whole: what was typed stands in place of what was offered.
    expect(await first(/^Faces, structure 2/).inputValue()).toBe('upper, lower');
    const cut = await typed
      .locator('td :is(input, textarea)')
      .evaluateAll((all) =>
        (all as HTMLInputElement[])
          .filter((it) => it.scrollWidth > it.clientWidth || it.scrollHeight > it.clientHeight)
          .map((it) => it.value || it.placeholder),
      );
    expect(cut).toEqual([]);
    await both('structures');

    // A list that is pasted again.
    await page.goto('/airframes/new/members?structure=Hull');
    await typed.getByRole('textbox').fill('F1 0\nF2 70\nF3 150');
    await page.keyboard.press('Control+Enter');
    await page.getByRole('button', { name: 'PASTE A LIST' }).click();
    await typed.getByRole('textbox').fill('F2 75\nF3 150\nF4 200');
    await page.keyboard.press('Control+Enter');
    await typed.getByText('These 2 names stand in Hull already:').waitFor();
    const replace = page.getByRole('button', { name: /^REPLACE 2 AND ADD 1/ });
    await focused(replace);
    await both('paste-again');
    expect(await accessibilityProblems(page)).toEqual([]);
    await page.keyboard.press('Enter');
    await expect.poll(() => first(/^Station, member 2/).inputValue()).toBe('75');
    expect(await typed.locator('tbody tr').count()).toBe(6);

    // A double that is typed is told while the other structures are not whole, and led to.
    await line(page, first(/^Member, member 5/), 'F2', '300');
    const link = troubles.getByRole('link', { name: /line 5/ });
    await link.waitFor();
    expect(await troubles.innerText()).toContain('Hull has two members called F2.');
    await page.goto('/airframes/new/zones');
    await link.click();
    await page.waitForURL(/members\?structure=Hull/);
    await focused(first(/^Member, member 5/));
    await both('led');
    await page.keyboard.press('Shift+Delete');

    // Zones: a number that another has is named, and nothing goes silently.
    await page.goto('/airframes/new/zones?structure=Hull');
    await line(page, first(/^Zone, zone 1/), '111', 'Bow, port', 'Hull', 'P', '', 'F2');
    const hands = page.getByRole('button', { name: /^ITS OTHER HANDS TOO/ });
    await expect.poll(() => hands.innerText()).toContain('112 and 110');
    await hands.click();
    await line(page, first(/^Zone, zone 4/), '113', 'Aft, port', 'Hull', 'P', 'F2');
    await expect.poll(() => hands.innerText()).toMatch(/114$/);
    await typed.getByText('110 is “centreline, Bow, centreline”').waitFor();
    await hands.scrollIntoViewIfNeeded();
    await both('zones');
    await hands.click();
    const numbers = () =>
      typed
        .locator('[data-at$=":0"]')
        .evaluateAll((all) => all.map((one) => (one as HTMLInputElement).value).filter(Boolean));
    await expect.poll(numbers).toEqual(['111', '112', '110', '113', '114']);

    // An item of access leads to its own line.
    await page.goto('/airframes/new/access');
    await line(page, first(/^Zone, item 1/), '113', 'Floor', 'floor', '8');
    await line(page, first(/^Zone, item 2/), '111', 'Panel', 'panel', 'eight');
    await troubles.getByText('Panel: “eight” can’t be read as a whole number.').waitFor();
    await page.goto('/airframes/new/about');
    await troubles.getByRole('link', { name: 'Access, line 2' }).click();
    await focused(first(/^Fixings, item 2/));
    await both('access');
  });
});
