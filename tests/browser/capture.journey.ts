import { describe, expect, it } from 'vitest';
import { enrol, photograph, sent, signIn, typeFigure, waiting } from './acts';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

describe('one pit, with the server away', () => {
  const stage = useStage('demo');

  it('is photographed, ringed, measured, graded and raised through reload and restart', async () => {
    const { page, context } = await stage.open('airframe');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await stage.server.kill();
    await page.reload();
    await page.getByText(/SHELL EXPANSION/).waitFor();

    // Touch the shell expansion: one bay aft of where it stood.
    const before = await page.locator('.position-bar').innerText();
    const drawing = page.locator('.expansion > svg');
    const box = await drawing.boundingBox();
    if (!box) throw new Error('The shell expansion is not drawn.');
    await drawing.click({ position: { x: box.width * 0.62, y: box.height * 0.55 } });
    await expect.poll(() => page.locator('.position-bar').innerText()).not.toBe(before);
    await picture(page, 'journey-capture');
    expect(await accessibilityProblems(page)).toEqual([]);

    const number = await photograph(page);
    expect(number).toMatch(/^[A-Z]\d{4}$/);
    await expect.poll(() => waiting(page)).toContain('1 photograph');

    // The picture is there after a reload: it was stored before anything else.
    await page.reload();
    const shown = page.locator('.detail-picture img');
    await shown.waitFor();
    await expect
      .poll(() => shown.evaluate((image: HTMLImageElement) => image.naturalWidth))
      .toBe(1600);
    await page.locator('.detail-marks').click({ position: { x: 300, y: 200 } });
    await page.getByRole('button', { name: /^LARGER/ }).click();
    await page.getByRole('button', { name: /^KEEP/ }).click();
    await expect.poll(() => page.locator('.wax-picture').count()).toBe(1);
    await picture(page, 'journey-ring');
    expect(await accessibilityProblems(page)).toEqual([]);

    await page.getByRole('button', { name: /^MEASURE/ }).click();
    await page.getByRole('button', { name: 'Pitting', exact: true }).click();
    const grade = page.locator('.grade-block h2');
    await expect.poll(() => grade.innerText()).toBe('Not graded ?');
    // The drawing's figure stands for the thickness until somebody measures it.
    const cell = (name: string) => page.locator('.figure-cell', { hasText: name });
    await expect.poll(() => cell('Plate thickness').innerText()).toMatch(/0\.064.*drawing/s);
    await cell('Plate thickness').click();
    await page.getByRole('button', { name: 'SWG' }).click();
    await typeFigure(page, '16');
    await expect.poll(() => cell('Plate thickness').innerText()).toContain('16 SWG');
    // Which instrument is asked once, before the first depth: here it is none of the book.
    await page.getByText('Which instrument today?').waitFor();
    await page.getByRole('button', { name: /^NEXT/ }).click();
    await cell('Length').click();
    // A length with what it is sure to, by the keys; the width by the keyboard.
    const keys = ['4', 'point', '5', 'plus or minus: how sure it is', '0', 'point', '1'];
    for (const name of keys) await page.getByRole('button', { name, exact: true }).click();
    await expect.poll(() => cell('Length').innerText()).toContain('4.5 ± 0.1 in');
    await picture(page, 'journey-doubt');
    await page.getByRole('button', { name: /^Next:/ }).click();
    await page.locator('.figure-cell.active', { hasText: 'Width' }).waitFor();
    await page.keyboard.type('3+0.2');
    await page.keyboard.press('Enter');
    await expect.poll(() => cell('Length').innerText()).toContain('4.5 ± 0.1 in');
    await expect.poll(() => cell('Width').innerText()).toContain('3 ± 0.2 in');
    await cell('Depth').click();
    await picture(page, 'journey-measure');

    // Reload in mid-figure: same record, same field, same keystrokes.
    for (const key of ['0', 'point', '0', '1'])
      await page.getByRole('button', { name: key, exact: true }).click();
    await page.reload();
    await expect.poll(() => page.locator('.figure-cell.active').innerText()).toContain('0.01');
    await page.getByRole('button', { name: '2', exact: true }).click();
    await expect.poll(() => grade.innerText()).toContain('3');
    await page.getByRole('button', { name: /^Next:/ }).click();
    await page.getByRole('button', { name: 'yes', exact: true }).click();
    await expect.poll(() => grade.innerText()).toBe('Grade 3 severe');
    await expect.poll(() => page.locator('.grade-block').innerText()).toContain('AL4');
    await expect
      .poll(() => page.locator('.grade-block').innerText())
      .toContain('Sorting aid, not approved data');
    expect(await accessibilityProblems(page)).toEqual([]);

    await picture(page, 'journey-raise');
    await page.getByRole('button', { name: new RegExp(`^RAISE ${number[0]}/`) }).click();
    await page.getByText(`${number[0]}/${number.slice(1)} is raised and stored.`).waitFor();

    // Closed and opened again in the same browser: still here, still waiting.
    const again = await context.newPage();
    await page.close();
    await again.goto('/defects');
    await again
      .getByText(`${number[0]}/${number.slice(1)}`)
      .first()
      .waitFor();
    await expect.poll(() => waiting(again)).toContain('1 photograph waiting');
    await again.goto(`/defects/${number}`);
    await expect.poll(() => again.locator('main').innerText()).toContain('4.5 ± 0.1 in');
    await picture(again, 'journey-doubt-sheet');

    await stage.server.restart();
    await again.reload();
    await sent(again);
  });
});
