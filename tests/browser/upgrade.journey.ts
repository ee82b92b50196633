// The server is changed for the next release while tablets hold work that it has not seen.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, describe, expect, inject, it } from 'vitest';
import {
  enrol,
  passQuestions,
  photograph,
  sendNow,
  sent,
  session,
  signIn,
  typeFigure,
  waiting,
} from './acts';
import {
  accessibilityProblems,
  type Device,
  picture,
  type Stage,
  useStage,
  waitForOffline,
} from './harness';

const PYTHON = '.venv/bin/python';
const FOLDER = 'tests/upgrades/releases';
const STATIC = 'backend/skinpin/web/static/index.html';
const TODAY = /-([\w-]+)\.js"/.exec(readFileSync(STATIC, 'utf8'))?.[1];
/** The newest release with a page that is not today's own: just recorded, it still is. */
const [RELEASE, OLD] = readdirSync(FOLDER)
  .filter((one) => existsSync(`${FOLDER}/${one}/page.tar.xz`))
  .map((one) => [one, JSON.parse(readFileSync(`${FOLDER}/${one}/release.json`, 'utf8'))] as const)
  .sort(([one], [other]) => Number(one) - Number(other))
  .filter(([, told]) => told.build !== TODAY)
  .at(-1) as readonly [string, { build: string }];

describe(`from release ${RELEASE} to the app of today`, () => {
  const page_of_old = mkdtempSync(join(tmpdir(), 'skinpin-page-'));
  const packed = `${FOLDER}/${RELEASE}/page.tar.xz`;
  execFileSync(PYTHON, ['-m', 'tarfile', '-e', packed, page_of_old], { cwd: inject('root') });
  afterAll(() => rmSync(page_of_old, { recursive: true, force: true }));
  let isOld = true;
  const stage = useStage('demo', () =>
    isOld ? ['tests.upgrades.served', page_of_old] : ['skinpin.cli'],
  );

  it('takes what old pages send, and hands the new app over with all that waits', async () => {
    const first = await tablet(stage, 'Inspector 1');
    const second = await tablet(stage, 'Inspector 2');
    // A tab that fetches no screen ahead: what it will need is only in the shell of its version.
    const tab = await second.context.newPage();
    await tab.addInitScript(() => Object.assign(window, { requestIdleCallback: () => 0 }));
    await tab.goto('/airframe');
    await tab.getByText(/SHELL EXPANSION/).waitFor();
    await second.page.bringToFront();

    await stage.server.kill();
    const numbers = [await record(first.page, '0.011'), await record(second.page, '0.024')];
    // One more on the second tablet, with half a figure on the pad.
    await goTo(second.page, '/airframe');
    const drawn = await photograph(second.page);
    await beginFigure(second.page, drawn, '0.0');
    await expect.poll(async () => (await holds(second.page)).drafts).toContain('"0.0"');
    const held = await Promise.all([holds(first.page), holds(second.page)]);
    expect(held.map(({ unsent }) => unsent.length > 4)).toEqual([true, true]);
    expect(held[1]?.files.length).toBeGreaterThan(1);
    expect(held[1]?.drafts).toContain('0.0');

    isOld = false;
    await second.context.route('**/api/**', (route) => route.abort());
    await stage.server.restart();

    // (a) The old page, never loaded anew, sends its work to the new server.
    await goTo(first.page, '/waiting');
    await first.page.getByRole('button', { name: /^SEND/ }).click();
    await sent(first.page);
    await expect.poll(() => buildOf(first.page)).toBe(OLD.build);
    await expect.poll(() => first.page.evaluate(() => Reflect.get(window, 'stays'))).toBe('here');

    // (b) The new app comes behind the page: nothing moves under the person.
    await look(second.page);
    await expect.poll(() => isReady(second.page), { timeout: 30_000 }).toBe(true);
    await expect.poll(() => second.page.locator('.new-version').count()).toBe(0);
    await expect
      .poll(() => second.page.locator('.figure-cell.active').innerText())
      .toContain('0.0');
    await expect.poll(() => second.page.evaluate(() => Reflect.get(window, 'stays'))).toBe('here');
    await goTo(second.page, '/waiting');
    const take = second.page.getByRole('button', { name: 'TAKE THE NEW VERSION' });
    await take.waitFor();
    await picture(second.page, 'journey-new-version');
    expect(await accessibilityProblems(second.page)).toEqual([]);
    expect(await holds(second.page)).toEqual(held[1]);
    // Taken with no server at all: nothing of either version can come from there.
    await stage.server.kill();
    await take.click();

    // The old tab is in the way until it is closed, and still opens every screen of its own.
    await second.page.getByRole('heading', { name: 'Another tab comes first' }).waitFor();
    await goTo(tab, '/people');
    await tab
      .getByText(/DEVICES|Devices/)
      .first()
      .waitFor();
    await expect.poll(() => buildOf(tab)).toBe(OLD.build);
    await tab.close();

    await expect.poll(() => waiting(second.page), { timeout: 30_000 }).toMatch(/^2 records/);
    await expect.poll(() => buildOf(second.page)).toBe(TODAY);
    expect(await holds(second.page)).toEqual(held[1]);
    await goTo(second.page, `/airframe/${drawn}`);
    await expect
      .poll(() => second.page.locator('.figure-cell.active').innerText())
      .toContain('0.0');

    await second.context.unroute('**/api/**');
    await stage.server.restart();
    await sendNow(second.page);
    const after = await holds(second.page);
    expect([after.unsent, after.unsent_files]).toEqual([[], []]);
    expect(after.lines.filter((id) => held[1]?.lines.includes(id))).toEqual(held[1]?.lines);
    await expectAtServer(stage, [...numbers, drawn], ['0.011', '0.024', null]);
    for (const sha256 of held.flatMap(({ unsent_files }) => unsent_files))
      expect((await ask(stage, `/api/photographs/${sha256}`)).status).toBe(200);
  });

  it('says what to do where a screen of a version that is gone can be had nowhere', async () => {
    const { page, expected } = await stage.open('airframe');
    expected.push('Failed to load resource', '/api/');
    // As on an address that browsers do not trust: there is no worker to keep the app.
    await page.addInitScript(() => {
      Object.defineProperty(navigator, 'serviceWorker', { value: undefined });
      Object.assign(window, { requestIdleCallback: () => 0 });
    });
    isOld = false;
    await stage.server.restart();
    await page.goto('/enrol');
    await page.getByLabel('One-time code').waitFor();
    isOld = true;
    await stage.server.restart();
    await goTo(page, '/set-up');
    await page.getByText(/has another version by now.*what waits still waits/).waitFor();
    expect(await accessibilityProblems(page)).toEqual([]);
    await page.getByRole('button', { name: 'RELOAD' }).click();
    await expect.poll(() => buildOf(page)).toBe(OLD.build);
  });
});

/** An enrolled tablet of the old app, with its work sent, open at the airframe. */
async function tablet(stage: Stage, person: string): Promise<Device> {
  const device = await stage.open('airframe');
  device.expected.push('/api/', 'Failed to load resource');
  const { page } = device;
  await enrol(page, stage.server);
  await waitForOffline(page);
  await signIn(page, person);
  await sendNow(page);
  await page.goto('/airframe');
  await page.getByText(/SHELL EXPANSION/).waitFor();
  await expect.poll(() => buildOf(page)).toBe(OLD.build);
  await page.evaluate(() => Object.assign(window, { stays: 'here' }));
  return device;
}

/** Which build a page is, as its script is called. */
function buildOf(page: Page): Promise<string | undefined> {
  return page.evaluate(
    () => /-([\w-]+)\.js$/.exec(document.querySelector('script')?.src ?? '')?.[1],
  );
}

/** Follows a link inside the app, which loads no page anew. */
async function goTo(page: Page, address: string): Promise<void> {
  await page.evaluate((to) => {
    const link = Object.assign(document.createElement('a'), { href: to });
    document.body.append(link);
    link.click();
    link.remove();
  }, address);
  await page.waitForURL((url) => url.pathname === address);
}

/** A pit with its photograph, its depth and its raise; returns its number. */
async function record(page: Page, depth: string): Promise<string> {
  const number = await photograph(page);
  await beginFigure(page, number, '');
  await typeFigure(page, depth);
  await page.getByRole('button', { name: 'yes', exact: true }).click();
  await expect.poll(() => page.locator('.grade-block h2').innerText()).toMatch(/^Grade \d/);
  return number;
}

/** Goes on to the depth of a record just photographed, and presses some keys of its figure. */
async function beginFigure(page: Page, number: string, keys: string): Promise<void> {
  await goTo(page, `/airframe/${number}`);
  await page.getByRole('button', { name: 'Pitting', exact: true }).click();
  await page.locator('.figure-cell', { hasText: 'Depth' }).click();
  await passQuestions(page);
  await page.locator('.figure-cell.active', { hasText: 'Depth' }).waitFor();
  for (const one of keys)
    await page.getByRole('button', { name: one === '.' ? 'point' : one, exact: true }).click();
}

/** The person looks at the tablet again, which has it ask for a new version. */
function look(page: Page): Promise<void> {
  return page.evaluate(() => void document.dispatchEvent(new Event('visibilitychange')));
}

function isReady(page: Page): Promise<boolean> {
  return page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    return registration?.waiting?.state === 'installed';
  });
}

interface Holds {
  lines: string[];
  unsent: string[];
  unsent_files: string[];
  files: string[];
  drafts: string;
}

/** What a tablet holds: ids of entries, what waits, hashes of files, keystrokes. */
function holds(page: Page): Promise<Holds> {
  return page.evaluate(async () => {
    const asked = <T>(request: IDBRequest<T>) =>
      new Promise<T>((done) => {
        request.onsuccess = () => done(request.result);
      });
    const names = (await indexedDB.databases()).map(({ name }) => name ?? '');
    const name = names.find((one) => one.startsWith('skinpin-') && !one.endsWith(' again'));
    const database = await asked(indexedDB.open(name as string));
    const store = (one: string) => database.transaction(one).objectStore(one);
    const keys = async (one: string) => (await asked(store(one).getAllKeys())) as string[];
    const waits = ['entries', 'unsent', 'unsent_files', 'files'].map(keys);
    const [lines, unsent, unsent_files, files] = (await Promise.all(waits)) as [
      ...[string[], string[], string[], string[]],
    ];
    const drafts = JSON.stringify(await asked(store('drafts').getAll()));
    database.close();
    return { lines, unsent, unsent_files, files, drafts };
  });
}

async function ask(stage: Stage, path: string): Promise<Response> {
  const cookie = await session(stage.server, 'Lead');
  return fetch(`${stage.server.address}${path}`, { headers: { cookie } });
}

/** The server has every record, with its figure as it was typed and its photograph. */
async function expectAtServer(stage: Stage, numbers: string[], depths: (string | null)[]) {
  for (const [at, number] of numbers.entries()) {
    const [row] = (await (await ask(stage, `/api/defects/${number}`)).json()) as object[];
    expect(row).toMatchObject({
      kind: 'pitting',
      photographs: 1,
      grade_known: depths[at] !== null,
    });
    if (depths[at])
      expect(row).toHaveProperty('deciding', expect.stringContaining(`depth ${depths[at]} in`));
  }
}
