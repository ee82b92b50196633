// The same view again: ghost over a made-up camera, three rivets, blink, slider, the server's fit.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { enrol, sendNow, signIn } from './acts';
import { type Device, openDevice, startOptions } from './device';
import { layoutFaults } from './faults';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

/** Marks in the earlier picture, px, and where the turned and larger one shows them. */
type Mark = [x: number, y: number];
const SIZE = [1600, 1200] as const;

function seenAgain([x, y]: Mark): Mark {
  const [angle, scale] = [(3 * Math.PI) / 180, 1.04];
  const [dx, dy] = [x - SIZE[0] / 2, y - SIZE[1] / 2];
  const right = scale * (Math.cos(angle) * dx - Math.sin(angle) * dy);
  const down = scale * (Math.sin(angle) * dx + Math.cos(angle) * dy);
  return [SIZE[0] / 2 + right, SIZE[1] / 2 + down];
}

describe('the same view again, with the server away', () => {
  const stage = useStage('demo');
  const folder = mkdtempSync(join(tmpdir(), 'same-view-'));
  let browser: Browser;
  let marks: Mark[] = [];

  beforeAll(async () => {
    const root = inject('root');
    const python = join(root, '.venv/bin/python');
    const said = execFileSync(python, ['-m', 'tests.imaging.same_plate', folder], { cwd: root });
    marks = String(said)
      .trim()
      .split('\n')
      .map((line) => line.split(' ').map(Number) as Mark);
    const options = startOptions();
    const camera = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];
    const film = `--use-file-for-fake-video-capture=${join(folder, 'camera.mjpeg')}`;
    browser = await chromium.launch({ ...options, args: [...options.args, ...camera, film] });
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('without a camera leads to the system’s, with a plain sentence', async () => {
    const { page } = await stage.open('airframe');
    await enrol(page, stage.server);
    await signIn(page, 'Inspector 2');
    await page.goto('/airframe/A0002/live');
    await page.getByText('This device has no camera that the browser knows of.').waitFor();
    const chooser = page.waitForEvent('filechooser');
    await page
      .getByRole('alert')
      .getByRole('button', { name: /CAMERA/ })
      .click();
    const buffer = readFileSync(join(folder, 'earlier.jpg'));
    await (await chooser).setFiles({ name: 'again.jpg', mimeType: 'image/jpeg', buffer });
    await page.waitForURL(/\/photograph\/[^/]+\/same-view$/);
    await page.getByText('Touch rivet 1 in the earlier picture').waitFor();
  });

  it('is taken over the last picture, fitted by rivets and by the server, and compared', async () => {
    const device = await openDevice(browser, stage.server, 'airframe');
    const { page } = device;
    await countCanvases(page);
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: /^SHUTTER/ }).click();
    const buffer = readFileSync(join(folder, 'earlier.jpg'));
    const file = { name: 'earlier.jpg', mimeType: 'image/jpeg', buffer };
    await (await chooser).setFiles(file);
    await page.waitForURL(/\/airframe\/[A-Z]+\d{4}\/photograph\//);
    const earlier = page.url();
    await sendNow(page);
    await page.goto(earlier);
    await page.getByRole('button', { name: /^HOLD ALONGSIDE/ }).click();
    await page.getByRole('button', { name: /^Held alongside/ }).waitFor();
    await stage.server.kill();

    await page.getByRole('button', { name: /^TAKE AGAIN/ }).click();
    const shutter = page.getByRole('button', { name: /^SHUTTER/ });
    await told(() => shutter.getAttribute('aria-disabled')).toBeNull();
    await page
      .getByText(/^Video frame \d+ × \d+ px; SYSTEM’S CAMERA takes the full picture\.$/)
      .waitFor();
    await page.getByRole('button', { name: /^OUTLINE/ }).click();
    await page.locator('.ghost-outline').waitFor();
    await pictureInBoth(page, 'same-view-outline');
    await page.getByRole('button', { name: /^40 %/ }).click();
    await page.locator('.ghost-40').waitFor();
    await page.getByRole('button', { name: /^AFT/ }).click();
    await pictureInBoth(page, 'same-view-live');
    expect(await accessibilityProblems(page)).toEqual([]);
    expect(await layoutFaults(page)).toEqual([]);
    await shutter.click();
    await page.waitForURL(/\/same-view$/);
    // The outline and the picture were drawn on canvases within bounds, and none was kept.
    const { made, kept, largest_px } = await canvases(page);
    expect(made).toBeGreaterThanOrEqual(2);
    expect(kept).toBe(0);
    expect(largest_px).toBeLessThanOrEqual(16_700_000);

    // Three marks in both, touched in turn; the keyboard steps the last there and back.
    const shown = page.locator('.rivet-picture .detail-marks');
    for (const mark of marks) {
      await touch(page, 0, mark);
      await touch(page, 1, seenAgain(mark));
    }
    await told(() => page.locator('.rivet-spot').count()).toBe(6);
    const panel = page.locator('.fit-panel');
    await told(() => figures(panel)).toEqual([near(-3, 0.7), near(-3.8, 1)]);
    const before = await panel.innerText();
    await page.keyboard.press('Shift+ArrowRight');
    await told(() => panel.innerText()).not.toBe(before);
    await page.keyboard.press('Shift+ArrowLeft');
    await told(() => panel.innerText()).toBe(before);
    expect(before).toContain('Good enough to compare');
    await pictureInBoth(page, 'same-view-rivets');
    expect(await accessibilityProblems(page)).toEqual([]);
    await page.getByRole('button', { name: /^KEEP THE FIT/ }).click();
    await told(() => panel.innerText()).toContain('by three rivets');
    expect(await shown.count()).toBe(0);

    // It is stored: a reload shows it again, laid over the earlier one.
    await page.reload();
    await told(() => figures(panel)).toEqual([near(-3, 0.7), near(-3.8, 1)]);
    const over = page.locator('.compare-over');
    await over.locator('img').waitFor();
    await expect
      .poll(() => laidAt(page, seenAgain(marks[0] as Mark)))
      .toEqual([near((marks[0] as Mark)[0], 6), near((marks[0] as Mark)[1], 6)]);
    // Less motion is asked for, so it swaps by the key alone.
    const by_itself = page.getByRole('button', { name: /^BY ITSELF/ });
    expect(await by_itself.getAttribute('aria-disabled')).toBe('true');
    await page.getByRole('button', { name: /^SWAP/ }).click();
    await page.locator('.compare-over.away').waitFor({ state: 'attached' });
    await page.getByRole('button', { name: /^SWAP/ }).click();
    await pictureInBoth(page, 'same-view-blink');
    await page.getByRole('button', { name: /^SLIDER/ }).click();
    await page.getByRole('slider').focus();
    await page.keyboard.press('ArrowRight');
    await told(() => page.locator('.compare-slider output').innerText()).toBe('51 %');
    await page.getByRole('button', { name: /^MORE/ }).click();
    await told(() => page.locator('.compare-slider output').innerText()).toBe('61 %');
    await pictureInBoth(page, 'same-view-slider');
    expect(await accessibilityProblems(page)).toEqual([]);
    expect(await layoutFaults(page)).toEqual([]);
    await page.getByRole('button', { name: /^BESIDE/ }).click();
    await told(() => page.locator('.compare-beside img').count()).toBe(2);
    await pictureInBoth(page, 'same-view-beside');
    // The server is back and has both: what it offers is stored only when it is accepted.
    const address = page.url();
    await stage.server.restart();
    // A sign-in goes to the server behind the sheet: gone with the page, it would be lost.
    const known = page.waitForResponse((one) => one.url().endsWith('/api/sign-in') && one.ok());
    await signIn(page, 'Inspector 2');
    await known;
    await sendNow(page);
    await page.goto(address);
    const ask = page.getByRole('button', { name: /^ASK THE SERVER/ });
    await told(() => ask.getAttribute('aria-disabled')).toBeNull();
    await ask.click();
    await told(() => panel.innerText(), 60_000).toContain('places agree');
    await pictureInBoth(page, 'same-view-offered');
    await page.getByRole('button', { name: /^ACCEPT THE FIT/ }).click();
    await told(() => panel.innerText()).toContain('laid by the server and accepted');
    expect(await figures(panel)).toEqual([near(-3, 0.1), near(-3.8, 0.2)]);
    await page.getByRole('button', { name: /^BLINK/ }).click();
    await over.locator('img').waitFor();
    for (const mark of marks) {
      const there = [near(mark[0], 1), near(mark[1], 1)];
      await told(() => laidAt(page, seenAgain(mark))).toEqual(there);
    }

    // In the defect book: the pictures of the view in order, and the end of their chain.
    await page.setViewportSize({ width: 1280, height: 800 });
    const [, number] = /airframe\/([A-Z]+\d{4})\//.exec(address) ?? [];
    await page.goto(`/defects/${number}`);
    await page.getByRole('button', { name: 'Same view' }).click();
    const chain = page.locator('.record-chain');
    await told(() => chain.innerText()).toMatch(
      /first of its view[\s\S]*turned 3\.0° anticlockwise, [34]\.\d % smaller/,
    );
    await page.getByRole('button', { name: /^SLIDER/ }).click();
    await page.locator('.compare-over img').waitFor();
    await page.getByRole('button', { name: /^LAST OF ITS VIEW/ }).click();
    await page.getByRole('button', { name: /^PLATE RENEWED/ }).click();
    await told(() => chain.innerText()).toContain('last: plate renewed');
    await pictureInBoth(page, 'same-view-record');
    expect(await accessibilityProblems(page)).toEqual([]);
    expect(await layoutFaults(page)).toEqual([]);
    expect((await canvases(page)).kept).toBe(0);
    await close(device);
  });
});

async function close({ context, problems }: Device): Promise<void> {
  await context.close();
  expect(problems).toEqual([]);
}

/** What comes by and by; the machine may be busy. */
const told = <T>(ask: () => T, timeout = 20_000) => expect.poll(ask, { timeout });

/** A number as far off as this. */
const near = (value: number, off: number) => ({
  asymmetricMatch: (told: unknown) => Math.abs(Number(told) - value) <= off,
  toString: () => `${value} ± ${off}`,
});

/** How far the picture lies turned clockwise, and by how many percent larger, as the panel says. */
async function figures(panel: ReturnType<Page['locator']>): Promise<number[]> {
  const said = await panel.innerText();
  const turned = /turned ([\d.]+)° (anti)?clockwise/.exec(said);
  const sized = /([\d.]+) % (larger|smaller)/.exec(said);
  if (!turned || !sized) return [];
  const signs = [turned[2] ? -1 : 1, sized[2] === 'smaller' ? -1 : 1] as const;
  return [Number(turned[1]) * signs[0], Number(sized[1]) * signs[1]];
}

async function touch(page: Page, which: 0 | 1, [x, y]: Mark): Promise<void> {
  const drawing = page.locator('.rivet-picture').nth(which).locator('.detail-marks');
  const spots = page.locator('.rivet-spot');
  const before = await spots.count();
  // The picture whose turn it is stands large.
  await page.locator('.rivet-picture').nth(which).and(page.locator('.active')).waitFor();
  const box = await drawing.boundingBox();
  if (!box) throw new Error('The picture is not drawn.');
  const position = { x: (x / SIZE[0]) * box.width, y: (y / SIZE[1]) * box.height };
  await drawing.click({ position });
  await told(() => spots.count()).toBe(before + 1);
}

/** Where the page shows a point of the new picture, in px of the earlier one. */
function laidAt(page: Page, [x, y]: Mark): Promise<number[]> {
  return page.evaluate(
    ([px, py]) => {
      const laid = document.querySelector('.compare-over > img') as HTMLElement;
      const under = document.querySelector('.compare-under') as HTMLImageElement;
      const matrix = new DOMMatrix(getComputedStyle(laid).transform);
      const at = matrix.transformPoint(new DOMPoint(px, py));
      const shown = under.getBoundingClientRect().width / 1600;
      return [at.x / at.w / shown, at.y / at.w / shown];
    },
    [x, y] as const,
  );
}

/** Notes every canvas that the page makes, and how large it is when it is drawn on. */
async function countCanvases(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const made: HTMLCanvasElement[] = [];
    const noted = { made, largest_px: 0 };
    const create = document.createElement.bind(document);
    document.createElement = ((name: string, options?: ElementCreationOptions) => {
      const element = create(name, options);
      if (element instanceof HTMLCanvasElement) made.push(element);
      return element;
    }) as typeof document.createElement;
    const context = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (
      this: HTMLCanvasElement,
      ...asked: unknown[]
    ) {
      noted.largest_px = Math.max(noted.largest_px, this.width * this.height);
      return Reflect.apply(context, this, asked);
    } as typeof context;
    Object.assign(globalThis, { noted_canvases: noted });
  });
}

/** How many there were, how many still hold pixels, and the largest of them. */
function canvases(page: Page) {
  return page.evaluate(() => {
    const { noted_canvases } = globalThis as unknown as {
      noted_canvases: { made: HTMLCanvasElement[]; largest_px: number };
    };
    const { made, largest_px } = noted_canvases;
    // The checker of accessibility keeps one of its own for single letters; it holds no picture.
    const kept = made.filter((one) => one.width * one.height > 300 * 150).length;
    return { made: made.length, kept, largest_px };
  });
}

async function pictureInBoth(page: Page, name: string): Promise<void> {
  for (const light of ['inside', 'outside']) {
    await page.evaluate((now) => {
      document.documentElement.dataset.light = now;
    }, light);
    await picture(page, `${name}-${light}`);
  }
}
