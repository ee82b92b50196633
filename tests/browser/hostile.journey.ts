// Hostile names and notes are shown as text on every sheet, letter for letter, and nothing runs.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import TEXTS from '../vectors/hostile_texts.json' with { type: 'json' };
import { session, signIn } from './acts';
import { layoutFaults } from './faults';
import { picture, useStage } from './harness';

const LINE = {
  ...{ found_on: '2025-10-01', structure: 'Hull', hand: 'Port', position: 'F6 + 2.0' },
  ...{ strakes: 'K', face: 'inner', kind: 'Pitting', material: 'AL', depth: '0.011' },
};
const SOON = { timeout: 30_000 };
const SHEETS = ['/defects', '/people', '/airframe', '/assessment', '/questions', '/stages'];

/** What a page shows, without spaces: browsers fold them. */
const shown = (page: Page) =>
  page.evaluate(() => (document.body.textContent ?? '').replace(/\s/g, ''));

const plain = (text: string) => text.normalize('NFC').replace(/\s/g, '');

/** What came of a text that was taken for anything but text. */
function ran(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found = 'hostile' in globalThis ? ['a script ran'] : [];
    const tags = document.querySelectorAll(
      'img[src="x"], [onerror], [onload], a[href^="javascript:" i], script:not([src])',
    );
    return [...found, ...[...tags].map((one) => one.outerHTML)];
  });
}

/** What does not fit: cut off, or to be moved sideways before the rest of a sheet is seen. */
async function wide(page: Page): Promise<string[]> {
  const moved = await page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('body *')]
      .filter((one) => /auto|scroll/.test(getComputedStyle(one).overflowX))
      .filter((one) => one.scrollWidth > one.clientWidth + 1)
      .map((one) => `moves sideways: ${one.className} ${one.scrollWidth} of ${one.clientWidth}`),
  );
  const faults = await layoutFaults(page);
  return [...moved, ...faults.filter((one) => !one.startsWith('too small'))];
}

describe('hostile names and notes', () => {
  const stage = useStage('demo');

  it('are text on the sheets of the desk, and nothing of them runs', async () => {
    const { page } = await stage.open('desk');
    const asked: string[] = [];
    const asks = (address: URL) => ['blob:', 'data:'].includes(address.protocol) || address.host;
    page.on('request', (one) => asked.push(String(asks(new URL(one.url())))));
    page.on('dialog', () => asked.push('a dialog'));
    const headers = {
      'content-type': 'application/json',
      origin: stage.server.address,
      cookie: await session(stage.server, 'Lead'),
    };
    const post = async (path: string, body: object) => {
      const options = { method: 'POST', headers, body: JSON.stringify(body) };
      const answer = await fetch(`${stage.server.address}${path}`, options);
      const told = await answer.text();
      expect(answer.ok, told).toBe(true);
      return JSON.parse(told) as { number?: string; troubles?: object[] };
    };
    const numbers: string[] = [];
    for (const [at, text] of TEXTS.entries()) {
      const person = { name: text, role: 'inspector', passcode: '471108' };
      await post('/api/people', { ...person, stamp_number: `${at + 100}` });
      const typed = { ...LINE, paper_number: `${at}`, found_by: text, note: text, part: text };
      const told = await post('/api/paper', { typed });
      expect(told.troubles).toEqual([]);
      numbers.push(told.number ?? '');
    }
    await signIn(page, 'Lead');
    expect(await ran(page)).toEqual([]);
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL('**/defects');
    for (const sheet of SHEETS) {
      await page.goto(sheet);
      await page.waitForLoadState('networkidle');
      expect(await ran(page), sheet).toEqual([]);
    }
    await page.goto('/people');
    for (const text of TEXTS) await expect.poll(() => shown(page), SOON).toContain(plain(text));
    expect(await wide(page)).toEqual([]);
    await picture(page, 'hostile-people');
    for (const [at, number] of numbers.entries()) {
      await page.goto(`/defects/${number.replace('/', '')}`);
      await expect.poll(() => shown(page), SOON).toContain(plain(TEXTS[at] ?? ''));
      expect(await ran(page), number).toEqual([]);
      expect(await wide(page), `${number}: ${TEXTS[at]}`).toEqual([]);
    }
    await picture(page, 'hostile-record');
    const ours = [new URL(stage.server.address).host, 'true'];
    expect(asked.filter((host) => !ours.includes(host))).toEqual([]);
  }, 180_000);
});
