// 48 megapixels on the measuring screen: the card found, a length of known truth, nothing moving.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../frontend/src/domain/photo_geometry';
import { enrol, signIn, waiting } from './acts';
import { canvasesOf, countCanvases, countInWorker, MOST_PX } from './canvases';
import { cardJpeg, SIZE, seenAt } from './card_jpeg';
import { layoutFaults } from './faults';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

const BY = 10;
const TRUTH_MM = 60;
/** Ends of a length in the plane of the card, 9 mm below it. */
const ENDS = [seenAt([10, 59]), seenAt([10 + TRUTH_MM, 59])] as const;
const UPRIGHT = { width: 820, height: 1180 };
const ON_ITS_SIDE = { width: 1180, height: 820 };
const key = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first();

/** Where the picture lies on the sheet, CSS px. */
async function boxOf(page: Page): Promise<number[]> {
  const box = await page.locator('.detail-picture').boundingBox();
  if (!box) throw new Error('The photograph is not drawn.');
  return [box.x, box.y, box.width, box.height];
}

/** Touches a place of the picture; returns how far off the browser told it, px of the original. */
async function touch(page: Page, [x, y]: Point, mirrored = false): Promise<Point> {
  const marks = page.locator('.detail-marks');
  const box = await marks.boundingBox();
  if (!box) throw new Error('The photograph is not drawn.');
  const shown = { x: (mirrored ? SIZE.width - x : x) / SIZE.width, y: y / SIZE.height };
  const told = marks.evaluate(
    (svg) =>
      new Promise<Point>((done) => {
        const take = (event: Event) => {
          const { clientX, clientY } = event as MouseEvent;
          const { left, top, width, height } = svg.getBoundingClientRect();
          done([(clientX - left) / width, (clientY - top) / height]);
        };
        svg.addEventListener('click', take, { once: true, capture: true });
      }),
  );
  await marks.click({ position: { x: shown.x * box.width, y: shown.y * box.height } });
  const [u, v] = await told;
  return [(shown.x - u) * SIZE.width * BY, (shown.y - v) * SIZE.height * BY];
}

/** Steps the point that was touched on to the spot: long steps, then single pixels. */
async function stepOn(page: Page, [right, down]: Point): Promise<void> {
  const press = async (name: string, times: number) => {
    for (let at = 0; at < times; at += 1) await key(page, new RegExp(`^${name}`)).click();
  };
  const all: [string, string, number][] = [
    ['LEFT', 'RIGHT', right],
    ['UP', 'DOWN', down],
  ];
  const tens = all.map(([, , px]) => Math.trunc(px / 10));
  const ones = all.map(([, , px], at) => Math.round(px - 10 * (tens[at] as number)));
  for (const [step, times] of [[10, tens] as const, [1, ones] as const]) {
    await stepIs(page, step);
    for (const [at, [less, more]] of all.entries()) {
      const count = times[at] as number;
      await press(count < 0 ? less : more, Math.abs(count));
    }
  }
}

async function stepIs(page: Page, px: number): Promise<void> {
  const words = () => key(page, /^STEP/).innerText();
  for (let tried = 0; tried < 3 && !(await words()).includes(`\n${px} px`); tried += 1)
    await key(page, /^STEP/).click();
  expect(await words()).toContain(`\n${px} px`);
}

/** Paper flags that reach over an edge of the picture. */
function flagsCut(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const frame = document.querySelector('.detail-picture')?.getBoundingClientRect();
    return [...document.querySelectorAll('.flag-picture')]
      .filter((flag) => {
        const { left, right, top, bottom } = flag.getBoundingClientRect();
        if (!frame) return true;
        const is_across = left < frame.left || right > frame.right;
        return is_across || top < frame.top || bottom > frame.bottom;
      })
      .map((flag) => flag.parentElement?.textContent ?? '');
  });
}

/** Paper flags whose words run from right to left. */
function flagsTurned(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<SVGTextElement>('.flag-words')]
      .filter((words) => (words.getScreenCTM()?.a ?? 0) <= 0)
      .map((words) => words.textContent ?? ''),
  );
}

async function looked(page: Page, name: string): Promise<void> {
  expect(await flagsCut(page)).toEqual([]);
  expect(await layoutFaults(page)).toEqual([]);
  for (const light of ['inside', 'outside']) {
    await page.evaluate((now) => {
      document.documentElement.dataset.light = now;
    }, light);
    await picture(page, `large-${name}-${light}`);
  }
}

const readout = (page: Page) => page.locator('.readout').innerText();
const flags = (page: Page) => page.locator('.flag-words').allTextContents();

/** Value and ± as the readout has them, mm. */
async function told(page: Page): Promise<{ value: number; doubt: number }> {
  await expect.poll(() => readout(page)).toMatch(/^[\d.]+ ± [\d.]+ mm/);
  const [, value, doubt] = /^([\d.]+) ± ([\d.]+) mm/.exec(await readout(page)) ?? [];
  return { value: Number(value), doubt: Number(doubt) };
}

describe('a photograph of 48 megapixels', () => {
  const stage = useStage('demo');

  it('is measured by the card in it, and lies still under the finger', async () => {
    const { page, context } = await stage.open('airframe');
    await page.setViewportSize(UPRIGHT);
    await countCanvases(context);
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await countInWorker(page, 'find_card_worker');
    const buffer = await cardJpeg(page, { orientation: 1, by: BY, crosses: ENDS });
    const chooser = page.waitForEvent('filechooser');
    await key(page, /^SHUTTER/).click();
    await (await chooser).setFiles({ name: 'large.jpg', mimeType: 'image/jpeg', buffer });
    await page.waitForURL(/\/photograph\//);
    await key(page, /^SCALE AND LENGTH/).click();
    await page.waitForURL(/\/measure$/);
    await page.locator('.detail-picture img').waitFor();
    await expect.poll(() => readout(page)).toContain('No scale is set.');
    const opened = await boxOf(page);

    // The card is found by the worker, on small canvases alone.
    await key(page, /^SCALE/).click();
    await key(page, /^SCALE CARD/).click();
    for (const name of ['1', '0', '0'])
      await page.getByRole('button', { name, exact: true }).click();
    await key(page, /^Next:|^NEXT/).click();
    await expect.poll(() => flags(page)).toEqual(['scale card 80.0 ± 0.4 × 50.00 ± 0.25 mm']);
    await expect.poll(async () => (await canvasesOf(page)).held).toBe(0);
    const { made, most_px } = await canvasesOf(page);
    expect(made).toBe(5);
    expect(most_px).toBeLessThanOrEqual(MOST_PX);
    expect(await boxOf(page)).toEqual(opened);

    // By finger, then on the spot: each time the truth lies inside what is stated.
    await key(page, /^INCHES/).click();
    await context.setOffline(true);
    const off = [];
    for (const end of ENDS) {
      off.push(await touch(page, end));
      expect(await boxOf(page)).toEqual(opened);
    }
    const by_finger = await told(page);
    expect(Math.abs(by_finger.value - TRUTH_MM)).toBeLessThanOrEqual(by_finger.doubt);
    await stepOn(page, off[1] as Point);
    await key(page, /^OTHER POINT/).click();
    await stepOn(page, off[0] as Point);
    for (let point = 0; point < 2; point += 1) {
      await key(page, /^ON THE SPOT/).click();
      await key(page, /^OTHER POINT/).click();
    }
    const on_the_spot = await told(page);
    expect(Math.abs(on_the_spot.value - TRUTH_MM)).toBeLessThanOrEqual(on_the_spot.doubt);
    expect(on_the_spot.doubt).toBeLessThan(by_finger.doubt);
    expect(await boxOf(page)).toEqual(opened);
    await key(page, /^KEEP \d/).click();
    await expect.poll(async () => (await flags(page)).length).toBe(2);
    await expect.poll(() => waiting(page)).toMatch(/^1 .* waiting/);
    expect(await boxOf(page)).toEqual(opened);
    await looked(page, 'upright');

    // On its side and in a mirror: its flags read from the left.
    await page.setViewportSize(ON_ITS_SIDE);
    await key(page, /^BACK/).click();
    await key(page, /^SEEN IN/).click();
    await key(page, /^SCALE AND LENGTH/).click();
    await page.locator('.detail-picture.mirrored img').waitFor();
    await expect.poll(async () => (await flags(page)).length).toBe(2);
    expect(await flagsTurned(page)).toEqual([]);

    // Back in reach: what was sent is told, and nothing moves for it.
    await key(page, /^INCHES/).click();
    const on_its_side = await boxOf(page);
    await context.setOffline(false);
    await expect.poll(() => waiting(page)).toBe('Nothing waiting');
    expect(await boxOf(page)).toEqual(on_its_side);
    for (const end of ENDS) await touch(page, end, true);
    const in_mirror = await told(page);
    expect(Math.abs(in_mirror.value - TRUTH_MM)).toBeLessThanOrEqual(in_mirror.doubt);
    expect(await boxOf(page)).toEqual(on_its_side);
    await looked(page, 'on-its-side');
    expect(await canvasesOf(page)).toEqual({ made, most_px, held: 0 });
    expect(await accessibilityProblems(page)).toEqual([]);
  });
});
