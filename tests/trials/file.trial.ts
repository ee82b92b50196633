// A photograph of 12 megapixels handed to the page: how long until it is stored for good, beside
// the least that a browser can do, one strict write of the same bytes and their SHA-256.
import { appendFileSync, copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { enrol, signIn } from '../browser/acts';
import { useStage, waitForOffline } from '../browser/harness';

const RUNS = 40;
const { TRIAL_PHOTOGRAPH = '', TRIAL_RESULT = '' } = process.env;

declare global {
  interface Window {
    handed_ms?: number | undefined;
    stored_ms?: number | undefined;
  }
}

/** The page notes when a file reaches it, and when the app goes on because it is stored. */
async function watch(page: Page) {
  await page.addInitScript(() => {
    document.addEventListener(
      'change',
      (event) => {
        const isFile = event.target instanceof HTMLInputElement && event.target.type === 'file';
        if (isFile) window.handed_ms = performance.now();
      },
      { capture: true },
    );
    const push = history.pushState.bind(history);
    history.pushState = (...given) => {
      window.stored_ms = performance.now();
      push(...given);
    };
  });
}

async function ownTook_ms(page: Page, file: string): Promise<number> {
  await page.goto('/airframe');
  await page.evaluate(() => {
    window.handed_ms = undefined;
    window.stored_ms = undefined;
  });
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: /^SHUTTER/ }).click();
  await (await chooser).setFiles(file);
  await page.waitForURL(/\/photograph\//);
  const [handed_ms, stored_ms] = await page.evaluate(() => [window.handed_ms, window.stored_ms]);
  if (handed_ms === undefined || stored_ms === undefined) throw new Error('Nothing was noted.');
  return stored_ms - handed_ms;
}

async function rawTook_ms(page: Page, file: string): Promise<number> {
  await page.goto('/enrol');
  await page.evaluate(() => {
    const input = Object.assign(document.createElement('input'), { type: 'file', id: 'raw' });
    document.body.append(input);
  });
  await page.locator('#raw').setInputFiles(file);
  return page.evaluate(async () => {
    const base = await new Promise<IDBDatabase>((done, fail) => {
      const asked = indexedDB.open('raw', 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore('files');
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => fail(asked.error);
    });
    const given = (document.querySelector('#raw') as HTMLInputElement).files?.[0] as File;
    const began_ms = performance.now();
    const bytes = await given.arrayBuffer();
    const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
    const name = [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('');
    await new Promise<void>((done, fail) => {
      const writing = base.transaction('files', 'readwrite', { durability: 'strict' });
      writing.objectStore('files').put(bytes, name);
      writing.oncomplete = () => done();
      writing.onerror = () => fail(writing.error);
    });
    const took_ms = performance.now() - began_ms;
    base.close();
    return took_ms;
  });
}

describe('a photograph of 12 megapixels', () => {
  const stage = useStage('demo');

  it('is stored for good', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'trial-'));
    const { page } = await stage.open('airframe');
    await watch(page);
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 1');
    const own: number[] = [];
    const raw: number[] = [];
    for (let run = 0; run < RUNS; run += 1) {
      // Other bytes behind the picture's end each time: a file that is there is not written again.
      const file = join(folder, `${run}.jpg`);
      copyFileSync(TRIAL_PHOTOGRAPH, file);
      appendFileSync(file, `run ${run}`);
      raw.push(await rawTook_ms(page, file));
      own.push(await ownTook_ms(page, file));
    }
    rmSync(folder, { recursive: true });
    writeFileSync(TRIAL_RESULT, JSON.stringify({ own, raw }));
    expect(own).toHaveLength(RUNS);
  });
});
