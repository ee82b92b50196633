// A photograph of 12 megapixels handed to the page: how long until it is stored for good, beside
// the least that a browser can do, one strict write of the same bytes and their SHA-256.
import { appendFileSync, copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { enrol, signIn } from '../browser/acts';
import { useStage, waitForOffline } from '../browser/harness';

const [ROUNDS, RUNS] = [4, 20];
const { TRIAL_PHOTOGRAPH = '', TRIAL_RESULT = '' } = process.env;

interface Noted {
  handed_ms: number;
  /** The record's number was painted. */
  number_ms: number;
  /** The app went on: bytes and entry are on the disk. */
  stored_ms: number;
  /** The words that it is stored were painted: it read back as it was written. */
  kept_ms: number;
}

declare global {
  interface Window {
    noted: Partial<Noted>;
  }
}

/** The page notes when a file reaches it, and what the person sees from then on. */
async function watch(page: Page) {
  await page.addInitScript(() => {
    window.noted = {};
    const painted = (holds: () => boolean, name: 'number_ms' | 'kept_ms') => {
      if (!holds()) return void requestAnimationFrame(() => painted(holds, name));
      // What stands in the document now is on the screen after this frame.
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => (window.noted[name] = performance.now());
        port2.postMessage(null);
      });
    };
    const shows = (words: RegExp) => words.test(document.getElementById('app')?.textContent ?? '');
    document.addEventListener(
      'change',
      ({ target }) => {
        if (!(target instanceof HTMLInputElement) || target.id === 'raw') return;
        window.noted = { handed_ms: performance.now() };
        painted(() => shows(/[A-Z]\/\d{4} is stored|[A-Z]\/\d{4}\w+ picture/), 'number_ms');
        painted(() => shows(/picture, stored on this tablet/), 'kept_ms');
      },
      { capture: true },
    );
    const push = history.pushState.bind(history);
    history.pushState = (...given) => {
      window.noted.stored_ms = performance.now();
      push(...given);
    };
  });
}

async function own(page: Page, file: string): Promise<Noted> {
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: /^SHUTTER/ }).click();
  await (await chooser).setFiles(file);
  await page.waitForURL(/\/photograph\//);
  await page.waitForFunction(() => window.noted.kept_ms !== undefined);
  return page.evaluate(() => window.noted as Noted);
}

/** The peer, in the same page a moment before. */
async function raw(page: Page, file: string): Promise<number> {
  await page.evaluate(() => {
    document.querySelector('#raw')?.remove();
    document.body.append(
      Object.assign(document.createElement('input'), { type: 'file', id: 'raw' }),
    );
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
    // Inside a wing there is no network; neither side has an exchange running beside it.
    await page.context().setOffline(true);
    const rounds = [];
    for (let round = 0; round < ROUNDS; round += 1) {
      const took = { stored: [], kept: [], raw_stored: [] } as Record<string, number[]>;
      for (let run = 0; run < RUNS; run += 1) {
        // Other bytes behind the picture's end: each is a photograph of its own.
        const file = join(folder, 'photograph.jpg');
        copyFileSync(TRIAL_PHOTOGRAPH, file);
        appendFileSync(file, `run ${round} ${run}`);
        await page.goto('/airframe');
        await page.getByRole('button', { name: /^SHUTTER/ }).waitFor();
        // The page's own start is over: it must not slow the side that comes first.
        await page.waitForTimeout(2000);
        const beside = await raw(page, file);
        const noted = await own(page, file);
        const shown_ms = Math.max(noted.number_ms, noted.stored_ms);
        took.stored?.push(shown_ms - noted.handed_ms);
        took.kept?.push(Math.max(noted.kept_ms, shown_ms) - noted.handed_ms);
        took.raw_stored?.push(beside);
      }
      rounds.push(took);
    }
    rmSync(folder, { recursive: true });
    writeFileSync(TRIAL_RESULT, JSON.stringify(rounds));
    expect(rounds).toHaveLength(ROUNDS);
  });
});
