import { createHash, randomBytes } from 'node:crypto';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { calm, enrol, madePicture, sendNow, session, signIn, waiting } from './acts';
import { picture, useStage, waitForOffline } from './harness';

/** A picture of more than two parts: true pixels, and bytes after them that belong to the file. */
async function largePicture(page: Page): Promise<Buffer> {
  return Buffer.concat([await madePicture(page), randomBytes(2_400_000)]);
}

describe('a tablet taken to the airframe and booked in again', () => {
  const stage = useStage('demo');

  it('has its zone with no network, and loses nothing when the server dies while it sends', async () => {
    const { server } = stage;
    const { page, expected } = await stage.open('airframe');
    // A record may come before the bytes of its photograph: that is no fault.
    expected.push('/api/photographs/');
    await enrol(page, server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 1');
    await page.getByText(/SHELL EXPANSION/).waitFor();

    // Taken along: one zone, and what of it is here is said before and after.
    await page.goto('/take');
    const zone = page.locator('.take-zone', { hasText: '111' });
    await expect.poll(() => zone.innerText(), { timeout: 40_000 }).toContain('0 of 7');
    const area = page.locator('.zone-area').first();
    await expect
      .poll(() => area.evaluate((drawn) => getComputedStyle(drawn).fill))
      .toBe('rgba(0, 0, 0, 0)');
    await calm(page);
    await zone.click();
    await page.getByRole('button', { name: /^TAKE TO THE AIRFRAME/ }).click();
    await expect.poll(() => zone.innerText(), { timeout: 60_000 }).toContain('all 7');
    const here = page.locator('.take-here');
    await expect.poll(() => here.innerText()).toMatch(/Log\s+whole as of/);
    await expect.poll(() => here.innerText()).toMatch(/Room\s+needs 0 kB, room for/);
    await picture(page, 'journey-take');

    // With no server: the last picture of a record in the zone is shown from this tablet.
    await server.kill();
    await page.goto('/airframe/A0002');
    const shown = page.locator('img').first();
    await shown.waitFor({ timeout: 40_000 });
    await expect
      .poll(() => shown.evaluate((one) => (one as HTMLImageElement).naturalWidth))
      .toBeGreaterThan(100);

    // A photograph of three parts is taken, and the server dies before the second of them.
    await page.goto('/airframe');
    const bytes = await largePicture(page);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: /^SHUTTER/ }).click();
    const file = { name: 'taken.jpg', mimeType: 'image/jpeg', buffer: bytes };
    await (await chooser).setFiles(file);
    await page.waitForURL(/\/airframe\/[A-Z]+\d{4}\/photograph\//);
    const number = new URL(page.url()).pathname.split('/')[2] ?? '';
    const parts: string[] = [];
    let dies = true;
    await page.route(/\/parts\/\d+$/, async (route) => {
      const part = route.request().url().split('/').at(-1) ?? '';
      if (dies && part === '1') {
        dies = false;
        await server.kill();
      }
      parts.push(part);
      await route.continue().catch(() => undefined);
    });
    // Nothing is on its way yet that a page left in the middle would have to send again.
    await page.goto('/waiting');
    await page.getByRole('button', { name: /^SEND/ }).waitFor();
    await server.restart();
    await page.getByRole('button', { name: /^SEND/ }).click();
    await expect.poll(() => dies, { timeout: 40_000 }).toBe(false);
    await expect.poll(() => waiting(page), { timeout: 40_000 }).toMatch(/1 photograph/);

    // The page is closed with the server still away; what arrived is not sent a second time.
    await page.goto('about:blank');
    await server.restart();
    await sendNow(page);
    expect(parts.filter((part) => part === '0')).toEqual(['0']);
    expect(parts.at(-1)).toBe('2');
    const cookie = await session(server, 'Lead');
    const there = await fetch(`${server.address}/api/photographs/${sha256}`, {
      headers: { cookie },
    });
    expect(Buffer.from(await there.arrayBuffer()).equals(bytes)).toBe(true);

    // The desk books the tablet in: its number is here, nothing waits on it.
    const desk = (await stage.open('desk')).page;
    await signIn(desk, 'Lead');
    await desk.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await desk.waitForURL(/\/defects/);
    await desk.goto('/tablets');
    const block = desk.getByRole('region', { name: `Tablet ${number.slice(0, -4)}` });
    await block.waitFor({ timeout: 40_000 });
    const written = `${number.slice(0, -4)}/${number.slice(-4)}`;
    await expect.poll(() => block.innerText(), { timeout: 40_000 }).toContain(written);
    await expect.poll(() => block.innerText()).toMatch(/WAITING ON IT\s+nothing/i);
    await expect.poll(() => block.innerText()).toMatch(/draft/);
    await picture(desk, 'journey-tablets');
  }, 600_000);
});
