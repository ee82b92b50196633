// Hostile names and notes are shown as text on every sheet, letter for letter, and nothing runs.
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import TEXTS from '../vectors/hostile_texts.json' with { type: 'json' };
import { session, signIn } from './acts';
import { layoutFaults } from './faults';
import { lasting, picture, useStage } from './harness';

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

/** An airframe whose every text is hostile: a structure, a member, a zone and a view for each. */
function hostileAirframe() {
  const names = TEXTS.map(plainName).filter((text, at, all) => at === all.indexOf(text));
  const member = (name: string, station: string) => ({ name, kind: name, station, main: true });
  return {
    ...{ name: names[0], constructor: names[7], issue: names[2], unit: 'in' },
    structures: names.map((name) => ({
      ...{ name, axis: name, unit: 'in', datum: name, positive: name, hands: ['P', 'S'] },
      members: [member(name, '24'), member(`${name} 2`, '48')],
      ...{ strakes: [`a ${name}`, `b ${name}`], faces: [name] },
      plating: [{ strakes: [0, 2], thickness: '0.064', part: name, material: name }],
    })),
    zones: names.map((name, at) => ({
      ...{ zone: `${100 + at}`, title: name, structure: name, hand: 'P' },
      ...{ along: [null, null], strakes: null },
    })),
    views: names.map((name) => ({
      ...{ name, title: name, structure: name, seen_from: name, box: [90, 40] },
      ...{ x: { origin: 0, per_unit: 1 }, y: { origin: 0, per_strake: 9 } },
      lines: [{ points: [[1, 2], [80, 30]], weight: 'thin', kind: 'full' }], // biome-ignore format: a line
      labels: [{ x: 9, y: 9, text: name }],
    })),
  };
}

/** A definition holds no control characters, and names of 60 letters at most. */
const plainName = (text: string) =>
  [...text.normalize('NFC')].filter((one) => one >= ' ').slice(0, 56).join(''); // biome-ignore format: a line

describe('an airframe of hostile names', () => {
  const stage = useStage('empty');

  it('is set up and drawn as text on every sheet, and nothing of it runs', async () => {
    const { page } = await stage.open('desk');
    const asked: string[] = [];
    page.on('dialog', () => asked.push('a dialog'));
    const definition = hostileAirframe();
    const first = { workshop: 'Quay', time_zone: 'Europe/London', unit: 'in', lead_name: 'Lead' };
    const answer = await fetch(`${stage.server.address}/api/setup`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: stage.server.address },
      body: JSON.stringify({ ...first, passcode: '471108', stamp_number: '1' }),
    });
    expect(answer.ok, await answer.clone().text()).toBe(true);
    // No service would take it; a lead's tablet of another version may have written it.
    const words = ['-m', 'tests.browser.brought', 'airframe', stage.server.folder];
    const input = JSON.stringify(definition);
    await stage.server.kill();
    execFileSync(join(inject('root'), '.venv/bin/python'), words, { cwd: inject('root'), input });
    await stage.server.restart();
    await page.goto('/');
    await page.getByRole('button', { name: /^Lead/ }).click();
    for (const figure of '471108')
      await page.getByRole('button', { name: figure, exact: true }).click();
    await page.getByRole('button', { name: /^SIGN IN/ }).click();
    await page.waitForURL((url) => url.pathname !== '/');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL('**/defects');
    for (const sheet of [...SHEETS, '/figures', '/paper', '/reports']) {
      await page.goto(sheet);
      await page.waitForLoadState('networkidle');
      expect(await ran(page), sheet).toEqual([]);
    }
    for (const { title } of definition.zones)
      await expect.poll(() => shown(page), SOON).toContain(plain(title));
    await picture(page, 'hostile-airframe');
    expect(asked).toEqual([]);
  }, 600_000);
});

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
    expect(await lasting(() => wide(page))).toEqual([]);
    await picture(page, 'hostile-people');
    for (const [at, number] of numbers.entries()) {
      await page.goto(`/defects/${number.replace('/', '')}`);
      await expect.poll(() => shown(page), SOON).toContain(plain(TEXTS[at] ?? ''));
      expect(await ran(page), number).toEqual([]);
      const lasts = await lasting(() => wide(page));
      expect(lasts, `${number}: ${TEXTS[at]}`).toEqual([]);
    }
    await picture(page, 'hostile-record');
    const ours = [new URL(stage.server.address).host, 'true'];
    expect(asked.filter((host) => !ours.includes(host))).toEqual([]);
  }, 600_000);
});
