// Photographs on their way in: large ones, HEIC, all eight orientations; and no canvas too many.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../frontend/src/domain/photo_geometry';
import type { FoundCard } from '../../frontend/src/imaging/find_card';
import { drawn, viewThrough } from '../frontend/imaging/card_drawn';
import PICTURES from '../frontend/imaging/pictures.json' with { type: 'json' };
import { enrol, signIn } from './acts';
import { picture, useStage, waitForOffline } from './harness';

const MOST_PX = 16_700_000;
const SIZE = { width: 800, height: 600 };
const CORNERS: Point[] = [
  [171.2, 150.4],
  [602.8, 96.1],
  [655.9, 452.6],
  [118.7, 398.3],
];

const SEEN = drawn(SIZE.width, SIZE.height, [viewThrough(CORNERS)]);
const GREY = Buffer.from(SEEN.data.filter((_, at) => at % 4 === 0)).toString('base64');

interface Counting {
  /** Canvases that were made, and the most pixels each has had. */
  canvases: { canvas: { width: number; height: number }; most_px: number }[];
  /** Made before counting began: for what a test draws itself. */
  Plain: typeof OffscreenCanvas;
}

/** Every canvas that a page makes is noted from here on, with each size it is given. */
function countCanvases(): void {
  const counted: Counting['canvases'] = [];
  const Plain = window.OffscreenCanvas;
  const note = (canvas: HTMLCanvasElement | OffscreenCanvas) => {
    const kind = canvas instanceof HTMLCanvasElement ? HTMLCanvasElement : Plain;
    const own = { canvas, most_px: canvas.width * canvas.height };
    counted.push(own);
    for (const side of ['width', 'height'] as const) {
      const kept = Object.getOwnPropertyDescriptor(kind.prototype, side);
      Object.defineProperty(canvas, side, {
        get: () => kept?.get?.call(canvas),
        set: (value: number) => {
          kept?.set?.call(canvas, value);
          own.most_px = Math.max(own.most_px, canvas.width * canvas.height);
        },
      });
    }
    return canvas;
  };
  class Counted extends Plain {
    constructor(width: number, height: number) {
      super(width, height);
      note(this);
    }
  }
  const make = document.createElement;
  document.createElement = function (this: Document, ...given: Parameters<typeof make>) {
    const made = make.apply(this, given);
    return made instanceof HTMLCanvasElement ? note(made) : made;
  } as typeof make;
  Object.assign(window, { OffscreenCanvas: Counted, canvases: counted, Plain });
}

/** How many canvases the page has made, the most pixels of one, and how many still hold some. */
async function canvasesOf(page: Page) {
  return page.evaluate(() => {
    const { canvases } = window as unknown as Counting;
    const held = canvases.filter(({ canvas }) => canvas.width * canvas.height > 0);
    return {
      made: canvases.length,
      most_px: Math.max(0, ...canvases.map((one) => one.most_px)),
      held: held.length,
    };
  });
}

/** A JPEG of the card, `by` times as large, stored as an orientation of EXIF asks for. */
async function cardJpeg(page: Page, orientation: number, by: number): Promise<Buffer> {
  const base64 = await page.evaluate(
    async ({ grey, width, height, orientation: turn, times }) => {
      const { Plain } = window as unknown as Counting;
      const bytes = Uint8Array.from(atob(grey), (one) => one.charCodeAt(0));
      const small = new Plain(width, height);
      const pen = small.getContext('2d') as OffscreenCanvasRenderingContext2D;
      const image = pen.createImageData(width, height);
      for (const [at, one] of bytes.entries()) image.data.set([one, one, one, 255], at * 4);
      pen.putImageData(image, 0, 0);
      const turned = turn >= 5;
      const [wide, high] = turned ? [height, width] : [width, height];
      const stored = new Plain(wide * times, high * times);
      const to = stored.getContext('2d') as OffscreenCanvasRenderingContext2D;
      // From what is seen to what is stored: the inverse of what each orientation asks for.
      const [w, h] = [width, height];
      const back: Record<number, [number, number, number, number, number, number]> = {
        1: [1, 0, 0, 1, 0, 0],
        2: [-1, 0, 0, 1, w, 0],
        3: [-1, 0, 0, -1, w, h],
        4: [1, 0, 0, -1, 0, h],
        5: [0, 1, 1, 0, 0, 0],
        6: [0, -1, 1, 0, 0, w],
        7: [0, -1, -1, 0, h, w],
        8: [0, 1, -1, 0, h, 0],
      };
      const [a, b, c, d, e, f] = back[turn] as [number, number, number, number, number, number];
      to.setTransform(a * times, b * times, c * times, d * times, e * times, f * times);
      to.drawImage(small, 0, 0);
      const jpeg = await stored.convertToBlob({ type: 'image/jpeg', quality: 0.92 });
      small.width = stored.width = 0;
      const held = new Uint8Array(await jpeg.arrayBuffer());
      let text = '';
      for (let at = 0; at < held.length; at += 8192) {
        text += String.fromCharCode(...held.subarray(at, at + 8192));
      }
      return btoa(text);
    },
    {
      grey: GREY,
      ...SIZE,
      orientation,
      times: by,
    },
  );
  const jpeg = Buffer.from(base64, 'base64');
  const tiff = [0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 1, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation];
  const exif = Buffer.from([...Buffer.from('Exif\0\0'), ...tiff, 0, 0, 0, 0, 0, 0]);
  const head = Buffer.from([0xff, 0xe1, 0, exif.length + 2]);
  return Buffer.concat([jpeg.subarray(0, 2), head, exif, jpeg.subarray(2)]);
}

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
    await context.addInitScript(countCanvases);
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();

    // All eight orientations: what the worker finds lies where the picture is seen.
    for (let orientation = 1; orientation <= 8; orientation += 1) {
      const jpeg = await cardJpeg(page, orientation, 1);
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
    const large = await cardJpeg(page, 6, 10);
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
    const { page, expected } = await stage.open('airframe');
    // Asked for its copy before it has the photograph, the server says that it has none.
    expected.push('?size=1600');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await stage.server.kill();
    await taken(page, 'taken.heic', Buffer.from(PICTURES['turned-heic'], 'base64'));
    await page.getByText('The photograph: stored on this tablet').waitFor();
    await picture(page, 'intake-heic');
    await stage.server.restart();
    const image = page.locator('.detail-picture img');
    await image.waitFor();
    await expect
      .poll(() => image.evaluate((one: HTMLImageElement) => [one.naturalWidth, one.naturalHeight]))
      .toEqual([96, 64]);
  });
});
