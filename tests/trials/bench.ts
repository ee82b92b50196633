// A page of its own in Chromium with nothing but domain code in it, as the app's build makes it.
import { createReadStream } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { build } from 'vite';
import { startBrowser } from '../browser/device';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** Opens a page on which `bench` has what a file here exports, and `given` the given JSON. */
export async function benchPage(
  given: string,
  file = 'bench_page.ts',
): Promise<{ page: Page; close(): Promise<void> }> {
  const script = await bundled(file);
  const server = createServer((asked, answer) => {
    if (asked.url === '/given') return void createReadStream(given).pipe(answer);
    answer.setHeader('content-type', 'text/html');
    answer.end('<!doctype html><title>bench</title>');
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const browser = await startBrowser();
  const page = await browser.newPage();
  await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
  await page.addScriptTag({ content: script });
  await page.evaluate(async () => {
    Object.assign(window, { given: await (await fetch('/given')).json() });
  });
  const close = async () => {
    await browser.close();
    server.close();
  };
  return { page, close };
}

async function bundled(file: string): Promise<string> {
  const made = await build({
    configFile: false,
    root: ROOT,
    logLevel: 'error',
    resolve: {
      alias: {
        '@sync': join(ROOT, 'sync/typescript'),
        '@tables': join(ROOT, 'backend/skinpin/domain/tables'),
      },
    },
    build: {
      write: false,
      target: 'es2022',
      lib: { entry: `tests/trials/${file}`, formats: ['iife'], name: 'bench' },
    },
  });
  const [first] = Array.isArray(made) ? made : [made];
  if (!first || !('output' in first)) throw new Error('The build of the bench gave no output.');
  return first.output[0].code;
}
