// Photographs on their way in: large ones, HEIC, all eight orientations; and no canvas too many.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../frontend/src/domain/photo_geometry';
import type { FoundCard } from '../../frontend/src/imaging/find_card';
import PICTURES from '../frontend/imaging/pictures.json' with { type: 'json' };
import { enrol, signIn } from './acts';
import { canvasesOf, countCanvases, MOST_PX } from './canvases';
import { CORNERS, cardJpeg, SIZE } from './card_jpeg';
import { picture, useStage, waitForOffline } from './harness';

/** Asks the built worker as the app does; `page`: in the page itself, where canvases are counted. */
async function asked(page: Page, jpeg: Buffer, where: 'worker' | 'page'): Promise<FoundCard> {
  return page.evaluate(
    async ({ base64, inPage }) => {
      const list = await (await fetch('/sw.js')).text();
      const address = /\/assets\/find_card_worker-[^"]+\.js/.exec(list)?.[0];
      if (!address) throw new Error('The finder is not kept for use without a network.');
      const blob = new Blob([Uint8Array.from(atob(base64), (one) => one.charCodeAt(0))]);
      const answer = await new Promise<{ found?: FoundCard; refused?: unknown }>((done, fail) => {
        if (!inPage) {
          const worker = new Worker(address, { type: 'module' });
          worker.onmessage = ({ data }) => done(data);
          worker.onerror = (event) => fail(new Error(event.message));
          return worker.postMessage(blob);
        }
        // A worker's script finds the page where it looks for its own scope.
        const script = document.createElement('script');
        script.type = 'module';
        script.src = address;
        script.onload = () => {
          const take = self.onmessage as unknown as (event: { data: Blob }) => void;
          self.onmessage = ({ data }) => done(data);
          take({ data: blob });
        };
        script.onerror = () => fail(new Error('The finder is not served.'));
        document.head.append(script);
      });
      if (!answer.found) throw new Error(JSON.stringify(answer.refused));
      return answer.found;
    },
    { base64: jpeg.toString('base64'), inPage: where === 'page' },
  );
}

const farthest = ({ corners }: FoundCard, by: number) =>
  Math.max(
    ...corners.map(([x, y], at) => {
      const [u, v] = CORNERS[at] as Point;
      return Math.hypot(x - u * by, y - v * by) / by;
    }),
  );

async function taken(page: Page, name: string, buffer: Buffer): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: /^SHUTTER/ }).click();
  await (await chooser).setFiles({ name, mimeType: '', buffer });
  await page.waitForURL(/\/airframe\/[A-Z]+\d{4}\/photograph\//);
}

describe('photographs on their way in', () => {
  const stage = useStage('demo');

  it('are upright, however large, and leave no canvas behind', async () => {
    const { page, context } = await stage.open('airframe');
    await countCanvases(context);
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();

    // All eight orientations: what the worker finds lies where the picture is seen.
    for (let orientation = 1; orientation <= 8; orientation += 1) {
      const jpeg = await cardJpeg(page, { orientation, by: 1 });
      const found = await asked(page, jpeg, 'worker');
      expect(farthest(found, 1), `orientation ${orientation}`).toBeLessThan(0.5);
      const shown = await page.evaluate(async (base64) => {
        const image = new Image();
        image.src = `data:image/jpeg;base64,${base64}`;
        await image.decode();
        return [image.naturalWidth, image.naturalHeight];
      }, jpeg.toString('base64'));
      expect(shown, `orientation ${orientation}`).toEqual([SIZE.width, SIZE.height]);
    }

    // 48 megapixels, turned: the card is found on its own pixels, on small canvases alone.
    const large = await cardJpeg(page, { orientation: 6, by: 10 });
    const before = await canvasesOf(page);
    expect(farthest(await asked(page, large, 'page'), 10)).toBeLessThan(0.3);
    const after = await canvasesOf(page);
    expect(after.made - before.made).toBe(5);
    expect(after.most_px).toBeLessThanOrEqual(MOST_PX);
    expect(after.held).toBe(0);

    await page.reload();
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await taken(page, 'large.jpg', large);
    const image = page.locator('.detail-picture img');
    await image.waitFor();
    await expect
      .poll(() => image.evaluate((one: HTMLImageElement) => [one.naturalWidth, one.naturalHeight]))
      .toEqual([8000, 6000]);
    await picture(page, 'intake-large');
    const used = await canvasesOf(page);
    expect(used.most_px).toBeLessThanOrEqual(MOST_PX);
    expect(used.held).toBe(0);
  });

  it('show a HEIC that this browser can’t, once the server has it', async () => {
    const { page, context, expected } = await stage.open('airframe');
    // Asked for its copy before it has the photograph, the server says that it has none.
    expected.push('?size=1600');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await context.setOffline(true);
    await taken(page, 'taken.heic', Buffer.from(PICTURES['turned-heic'], 'base64'));
    await page.getByText('The photograph: stored on this tablet').waitFor();
    await picture(page, 'intake-heic');
    // The network comes back: the page meets its server at once, not at its next round.
    await context.setOffline(false);
    const image = page.locator('.detail-picture img');
    await image.waitFor();
    await expect
      .poll(() => image.evaluate((one: HTMLImageElement) => [one.naturalWidth, one.naturalHeight]))
      .toEqual([96, 64]);
  });
});
