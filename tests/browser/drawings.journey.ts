// A drawing of a sheet is calibrated at the desk; a defect is set on it by touch, offline; the report prints it.
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { calm, enrol, photograph, sent, session, signIn } from './acts';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

/** The sheet: ten pixels an inch, frames upright, strakes of the port side level, the keel at the foot. */
const SHEET = { wide: 1300, high: 800 };
const STATIONS: Record<string, number> = { F1: 8, F3: 32, F5: 57, F6: 70, F8: 96 };
const STRAKES = ['K', 'B1', 'B2', 'B3', 'C'];
const px = (station: number, line: number): [number, number] => [
  100 + 10 * station,
  700 - 120 * line,
];

/** Draws the sheet in the browser, frames and strakes by code. */
async function drawnSheet(page: Page): Promise<Buffer> {
  const lines = [
    ...Object.values(STATIONS).map((station) => [...px(station, 0), ...px(station, 4)]),
    ...STRAKES.map((_, line) => [...px(0, line), ...px(104, line)]),
  ];
  const names = Object.entries(STATIONS).map(([name, station]) => ({ name, at: px(station, 4) }));
  const base64 = await page.evaluate(
    async ([size, lines, names]) => {
      const canvas = new OffscreenCanvas(size.wide, size.high);
      const pen = canvas.getContext('2d') as OffscreenCanvasRenderingContext2D;
      pen.fillStyle = '#ffffff';
      pen.fillRect(0, 0, size.wide, size.high);
      pen.strokeStyle = '#1b3f66';
      pen.lineWidth = 2;
      for (const [x, y, u, v] of lines as [number, number, number, number][]) {
        pen.beginPath();
        pen.moveTo(x, y);
        pen.lineTo(u, v);
        pen.stroke();
      }
      pen.fillStyle = '#1b3f66';
      pen.font = '28px sans-serif';
      for (const { name, at } of names) pen.fillText(name, at[0] - 16, at[1] - 14);
      const blob = await canvas.convertToBlob({ type: 'image/png' });
      canvas.width = 0;
      const bytes = new Uint8Array(await blob.arrayBuffer());
      let text = '';
      for (const byte of bytes) text += String.fromCharCode(byte);
      return btoa(text);
    },
    [SHEET, lines, names] as const,
  );
  return Buffer.from(base64, 'base64');
}

/** Touches a pixel of the picture, however large it is shown. */
async function touch(page: Page, selector: string, [x, y]: readonly [number, number]) {
  const shown = page.locator(selector);
  await shown.scrollIntoViewIfNeeded();
  const box = await shown.boundingBox();
  if (!box) throw new Error(`${selector} is not drawn.`);
  const position = { x: (x / SHEET.wide) * box.width, y: (y / SHEET.high) * box.height };
  await shown.click({ position });
}

async function inBothLights(page: Page, name: string) {
  expect(await accessibilityProblems(page)).toEqual([]);
  await picture(page, name);
  await page.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
  expect(await accessibilityProblems(page)).toEqual([]);
  await picture(page, `${name}-inside`);
  await page.evaluate(() => document.documentElement.setAttribute('data-light', 'outside'));
}

describe('a drawing as a calibrated view', () => {
  const stage = useStage('demo');

  it('is calibrated at the desk, bears a defect set by touch offline, and is printed', async () => {
    const { page } = await stage.open('desk');
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL('**/defects');
    await page.goto('/airframes/2603/drawings');
    await page.getByRole('link', { name: /^ADD A DRAWING/ }).click();
    await page.getByLabel('Title').fill('Shell plating, bow');
    await page.getByLabel('Sheet', { exact: true }).fill('41');
    await page.getByLabel('Issue', { exact: true }).fill('C');
    await page.getByLabel('Hand shown').selectOption('P');
    const file = { name: 'sheet.png', mimeType: 'image/png', buffer: await drawnSheet(page) };
    await page.locator('.add-file input[type=file]').setInputFiles(file);
    await page.locator('.sheet-picture img').waitFor();
    const known: [string, string][] = [
      ...[['F1', 'K'] as [string, string], ['F8', 'K'] as [string, string]],
      ...[['F8', 'C'] as [string, string], ['F6', 'B2'] as [string, string]],
    ];
    const words = page.locator('.fit-words');
    const figures = page.locator('.fit-figures');
    const keep = page.getByRole('button', { name: /^KEEP IN THE DRAFT/ });
    for (const [at, [member, strake]] of known.entries()) {
      const is_check = at === 3;
      const key = is_check ? 'ADD THE CHECK POINT' : 'ADD A POINT';
      if (is_check) {
        await expect.poll(() => figures.innerText()).toContain('add one: nothing proves the fit');
        expect(await keep.innerText()).toContain('no check point: add one first');
        await inBothLights(page, 'journey-drawings-unproved');
      }
      await page.getByRole('button', { name: key }).click();
      // The check point is touched a frame too far aft first.
      const [x, y] = px(STATIONS[member] as number, STRAKES.indexOf(strake));
      await touch(page, '.sheet-picture .detail-marks', [is_check ? x + 60 : x, y]);
      await page.getByLabel(`Point ${at + 1}, member`).selectOption(member);
      await page.getByLabel(`Point ${at + 1}, strake`).selectOption(strake);
    }
    await expect.poll(() => words.innerText()).toContain('The check point is');
    await expect.poll(() => keep.getAttribute('aria-disabled')).toBe('true');
    expect(await figures.innerText()).toContain('over its limit');
    // In sight from the first point to the last, above the title block.
    for (const seen of ['Point 1, member', 'Point 4, member']) {
      await page.getByLabel(seen).scrollIntoViewIfNeeded();
      const { y = 0, height = 0 } = (await figures.boundingBox()) ?? {};
      expect([y >= 50, y + height <= 700], seen).toEqual([true, true]);
    }
    await inBothLights(page, 'journey-drawings-check-off');
    // By the keyboard it is brought back to its frame.
    await page.locator('.sheet-picture').focus();
    for (let step = 0; step < 6; step += 1) await page.keyboard.press('Shift+ArrowLeft');
    await expect.poll(() => words.innerText()).not.toContain('The check point is');
    await inBothLights(page, 'journey-drawings-calibrated');
    await expect.poll(() => keep.getAttribute('aria-disabled')).toBeNull();
    await keep.click();
    await page.getByRole('link', { name: 'Shell plating, bow' }).waitFor();
    await expect
      .poll(() => page.locator('.drawings-table').innerText())
      .toMatch(/affine, residual 0\.00 in, check point 0\.\d+ in off/);
    await page.goto('/airframes/2603/issue');
    await page.getByLabel('Reason of this issue').fill('Sheet 41 issue C scanned.');
    const issue = page.getByRole('button', { name: /^ISSUE 2/ });
    await expect.poll(() => issue.getAttribute('aria-disabled')).toBeNull();
    await issue.click();
    await page.waitForURL('/airframes/2603');

    const tablet = (await stage.open('airframe')).page;
    await enrol(tablet, stage.server);
    await waitForOffline(tablet);
    await signIn(tablet, 'Inspector 1');
    await tablet.getByText(/SHELL EXPANSION/).waitFor();
    await tablet.goto('/take');
    const zone = tablet.locator('.take-zone', { hasText: '111' });
    await zone.waitFor({ timeout: 40_000 });
    await calm(tablet);
    await zone.click();
    await tablet.getByRole('button', { name: /^TAKE TO THE AIRFRAME/ }).click();
    await tablet
      .getByText(/^Taken: log, drawings/)
      .first()
      .waitFor({ state: 'attached', timeout: 60_000 });
    await stage.server.kill();
    await tablet.goto('/airframe');
    await tablet.getByRole('button', { name: 'Shell plating, bow' }).click();
    await tablet.locator('.pictured image').waitFor();
    await touch(tablet, '.pictured > svg', px(73, 1.5));
    const bar = tablet.locator('.position-bar');
    await expect.poll(() => bar.innerText()).toMatch(/F6 \+ 3(\.0)? aft/);
    await expect.poll(() => bar.innerText()).toContain('B1–B2');
    await inBothLights(tablet, 'journey-drawings-tablet');
    const number = await photograph(tablet);
    await tablet.getByRole('button', { name: /^MEASURE/ }).click();
    await tablet.getByRole('button', { name: 'Pitting', exact: true }).click();
    const last = tablet.locator('.raise-last');
    const next = tablet.getByRole('button', { name: /^(Next:|NEXT)/ });
    for (let asked = 0; asked < 20 && (await last.count()) === 0; asked += 1)
      await next.click({ timeout: 500 }).catch(() => undefined);
    await tablet.getByRole('button', { name: /^RAISE/, disabled: false }).click();
    await tablet.waitForURL(/\/airframe\?raised=/);
    const named = `${number[0]}/${number.slice(1)}`;
    await expect.poll(() => tablet.locator('.pictured').innerText()).toContain(named);
    await picture(tablet, 'journey-drawings-raised');

    await stage.server.restart();
    await tablet.reload();
    await sent(tablet);
    const headers = { cookie: await session(stage.server, 'Lead') };
    const get = async (path: string) =>
      Buffer.from(await (await fetch(`${stage.server.address}${path}`, { headers })).arrayBuffer());
    const [airframe] = JSON.parse(String(await get('/api/airframes'))) as { record: string }[];
    const stands = JSON.parse(
      String(await get(`/api/airframes/${airframe?.record}/definition.json`)),
    ) as { views: { picture?: { sha256: string } }[] };
    const sha256 = stands.views.find((view) => view.picture)?.picture?.sha256;
    const rendition = await get(`/api/photographs/${sha256}?size=1600`);
    const pdf = await get('/api/reports/zone/111.pdf');
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(pdf.includes(rendition.subarray(0, 400))).toBe(true);
    writeFileSync(`${stage.server.folder}/report-111.pdf`, pdf);
  });
});
