// Every canvas that a page or a worker of it makes, counted from the moment counting begins.
import type { BrowserContext, Page } from 'playwright-core';

/** No tablet gives a canvas of more pixels than this. */
export const MOST_PX = 16_700_000;

interface Counted {
  /** The pixels it has now, and the most it has had. */
  px: number;
  most_px: number;
}

export interface Counting {
  /** Canvases of the page and of its workers, by a name for each. */
  canvases: Map<string, Counted>;
  /** Made before counting began: for what a test draws itself. */
  Plain: typeof OffscreenCanvas;
}

/** Runs in the page, and before the script of a worker, which tells its page by a channel. */
function countHere(): void {
  const counted = new Map<string, Counted>();
  const channel = new BroadcastChannel('canvases');
  const is_worker = typeof document === 'undefined';
  const here = Math.random().toString(36).slice(2);
  const Plain = globalThis.OffscreenCanvas;
  let made = 0;
  if (!is_worker) channel.onmessage = ({ data: [name, one] }) => counted.set(name, one);
  const note = (canvas: HTMLCanvasElement | OffscreenCanvas) => {
    const kind = canvas instanceof Plain ? Plain : HTMLCanvasElement;
    made += 1;
    const name = `${here} ${made}`;
    const own = { px: 0, most_px: 0 };
    const read = () => {
      own.px = canvas.width * canvas.height;
      own.most_px = Math.max(own.most_px, own.px);
      if (is_worker) channel.postMessage([name, own]);
      else counted.set(name, own);
    };
    for (const side of ['width', 'height'] as const) {
      const kept = Object.getOwnPropertyDescriptor(kind.prototype, side);
      Object.defineProperty(canvas, side, {
        get: () => kept?.get?.call(canvas),
        set: (value: number) => {
          kept?.set?.call(canvas, value);
          read();
        },
      });
    }
    read();
    return canvas;
  };
  class Noted extends Plain {
    constructor(width: number, height: number) {
      super(width, height);
      note(this);
    }
  }
  Object.assign(globalThis, { OffscreenCanvas: Noted, canvases: counted, Plain });
  if (is_worker) return;
  const make = document.createElement;
  document.createElement = function (this: Document, ...given: Parameters<typeof make>) {
    const one = make.apply(this, given);
    return one instanceof HTMLCanvasElement ? note(one) : one;
  } as typeof make;
}

/** Counts on every page that the context opens from here on. */
export async function countCanvases(context: BrowserContext): Promise<void> {
  await context.addInitScript(countHere);
}

/** Counts in a worker too: its script, as it is kept for use without a network, begins with that. */
export async function countInWorker(page: Page, named: string): Promise<void> {
  await page.evaluate(
    async ([name, first]) => {
      for (const kept of await caches.keys()) {
        const cache = await caches.open(kept);
        const request = (await cache.keys()).find(({ url }) => url.includes(name));
        const stood = request && (await cache.match(request));
        if (!stood) continue;
        const headers = new Headers(stood.headers);
        for (const gone of ['content-length', 'content-encoding']) headers.delete(gone);
        await cache.put(request, new Response(`${first}\n${await stood.text()}`, { headers }));
        return;
      }
      throw new Error(`No script named ${name} is kept for use without a network.`);
    },
    [named, `(${countHere})();`] as const,
  );
}

/** How many canvases were made, the most pixels of one, and how many still hold some. */
export function canvasesOf(page: Page): Promise<{ made: number; most_px: number; held: number }> {
  return page.evaluate(() => {
    const all = [...(window as unknown as Counting).canvases.values()];
    return {
      made: all.length,
      most_px: Math.max(0, ...all.map(({ most_px }) => most_px)),
      held: all.filter(({ px }) => px > 0).length,
    };
  });
}
