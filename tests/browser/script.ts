// The steps of a random script: what hands, batteries and networks do to a tablet.
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { passQuestions, signIn } from './acts';
import { type Held, type Row, readHeld } from './agreement';
import { type Device, listen } from './device';
import type { Server } from './server';

/** Chance from a seed: the same seed, the same script. */
export class Chance {
  constructor(private state: number) {}

  /** A number from 0 up to, not including, `below`. */
  whole(below: number): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296) * below);
  }

  one<T>(of: readonly T[]): T {
    if (of.length === 0) throw new Error('There is nothing to choose from.');
    return of[this.whole(of.length)] as T;
  }
}

export interface Tablet {
  letter: string;
  book: string;
  device: Device;
  /** The tab that is open now. */
  page: Page;
  person: string;
  /** A picture without an end of its own, and the pictures made of it so far. */
  picture: Buffer;
  taken: Buffer[];
  /** Everything it ever held: none of it may go. */
  ids: Set<string>;
  files: Set<string>;
}

export interface Scene {
  server: Server;
  chance: Chance;
}

/** How many entries of its own a step adds; null: the step is not possible here and now. */
export type Grown = { least: number; most: number } | null;
const exactly = (count: number): Grown => ({ least: count, most: count });
const PEOPLE = ['Inspector 1', 'Inspector 2', 'Inspector 3', 'Fitter 1', 'Lead'];
const KINDS = ['Pitting', 'Surface corrosion', 'Dent'];
const FIGURES = ['4.5', '5.5'];

export type Step = (scene: Scene, tablet: Tablet) => Promise<Grown>;

export const STEPS: Record<string, { weight: number; act: Step }> = {
  photograph: { weight: 5, act: photograph },
  'set kind': { weight: 4, act: setKind },
  'type a figure': { weight: 4, act: typeOneFigure },
  'add a ring': { weight: 3, act: addRing },
  raise: { weight: 3, act: raise },
  undo: { weight: 2, act: undo },
  'another screen': { weight: 2, act: anotherScreen },
  reload: { weight: 1, act: reload },
  'close the tab and open it again': { weight: 1, act: reopen },
  'kill the server': { weight: 5, act: killServer },
  'restart the server': { weight: 6, act: restartServer },
  'Send now': { weight: 3, act: sendNow },
  'Send now, cut off': { weight: 4, act: sendCutOff },
  'change person': { weight: 2, act: changePerson },
  'photograph, broken off': { weight: 2, act: photographBrokenOff },
  'ring, broken off': { weight: 1, act: ringBrokenOff },
};

/** Draws the name of a step by weight. */
export function drawStep(chance: Chance): string {
  const names = Object.entries(STEPS).flatMap(([name, { weight }]) =>
    Array.from({ length: weight }, () => name),
  );
  return chance.one(names);
}

export function held(tablet: Tablet): Promise<Held> {
  return readHeld(tablet.page, tablet.book, tablet.letter);
}

/** Waits until the app shows a sheet: what comes after a load. */
export function settled(page: Page): Promise<void> {
  return page.locator('.title-cell').first().waitFor();
}

async function photograph(scene: Scene, tablet: Tablet): Promise<Grown> {
  await press(scene, tablet);
  await tablet.page.waitForURL(/\/airframe\/[A-Z]+\d{4}\/photograph\//);
  await tablet.page.getByText('picture, stored on this tablet').waitFor();
  return exactly(2);
}

/** Presses the shutter somewhere new and hands over a picture. */
async function press({ chance }: Scene, tablet: Tablet): Promise<void> {
  const { page } = tablet;
  await at(tablet, '/airframe');
  await page
    .locator(chance.one(['.k-fwd', '.k-aft', '.k-keel', '.k-chine']))
    .click({ force: true });
  await handOver(page, pictureOf(tablet, chance));
}

/** Presses the shutter and hands over a picture; does not wait for what comes of it. */
export async function handOver(page: Page, buffer: Buffer): Promise<void> {
  const shutter = page.getByRole('button', { name: /^SHUTTER/ });
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), shutter.click()]);
  await chooser.setFiles({ name: 'taken.jpg', mimeType: 'image/jpeg', buffer });
}

/** The same picture in other bytes: a decoder stops at the picture's end, and this comes after. */
export function marked(picture: Buffer, words: string): Buffer {
  return Buffer.concat([picture, Buffer.from(words)]);
}

/** A picture no camera made before, or now and then the very bytes of an earlier one. */
function pictureOf({ picture, letter, taken }: Tablet, chance: Chance): Buffer {
  const again = taken.length > 0 && chance.whole(3) === 0;
  const bytes = again ? chance.one(taken) : marked(picture, `${letter}${taken.length}`);
  if (!again) taken.push(bytes);
  return bytes;
}

async function setKind(scene: Scene, tablet: Tablet): Promise<Grown> {
  if (!(await openRecord(scene, tablet))) return null;
  const kinds = tablet.page.locator('.kind-keys');
  if ((await kinds.count()) === 0) return null;
  await tablet.page.getByRole('button', { name: scene.chance.one(KINDS), exact: true }).click();
  await tablet.page.locator('.grade-block').waitFor();
  return exactly(1);
}

async function typeOneFigure(scene: Scene, tablet: Tablet): Promise<Grown> {
  const { page } = tablet;
  if (!(await openRecord(scene, tablet))) return null;
  const cell = page.locator('.figure-cell', { hasText: scene.chance.one(['Length', 'Width']) });
  if ((await cell.count()) === 0) return null;
  await cell.click();
  for (const one of scene.chance.one(FIGURES))
    await page.getByRole('button', { name: one === '.' ? 'point' : one, exact: true }).click();
  await page.getByRole('button', { name: /^Next:/ }).click();
  return exactly(1);
}

async function addRing(scene: Scene, tablet: Tablet): Promise<Grown> {
  if (!(await openPicture(scene, tablet))) return null;
  await keyOf(tablet.page, 'KEEP').click();
  return exactly(1);
}

/** Opens a photograph of a record, with a ring that is placed and not yet kept. */
async function openPicture(scene: Scene, tablet: Tablet): Promise<boolean> {
  const { page } = tablet;
  if (!page.url().includes('/photograph/')) {
    if (!(await openRecord(scene, tablet))) return false;
    const pictures = page.locator('.measure-pictures a');
    if ((await pictures.count()) === 0) return false;
    await pictures.first().click();
  }
  const position = { x: 100 + scene.chance.whole(400), y: 60 + scene.chance.whole(200) };
  const drawing = page.locator('.detail-marks');
  const gone = page.getByText('was taken back');
  const shown = drawing.or(gone).first().waitFor({ timeout: 15_000 });
  if (!(await shown.then(() => true, isTimeout))) {
    // Only a picture of the other tablet may be missing, while the server can't give it.
    expect(await isHeld(tablet)).toBe(false);
    return false;
  }
  if ((await gone.count()) > 0) return false;
  await drawing.click({ position });
  return true;
}

function isTimeout(error: Error): false {
  if (error.name === 'TimeoutError') return false;
  throw error;
}

/** Whether the tablet has the bytes of the photograph that its address names. */
async function isHeld(tablet: Tablet): Promise<boolean> {
  const { lines, files } = await held(tablet);
  const record = new URL(tablet.page.url()).pathname.split('/').at(-1) ?? '';
  const line = lines.find((one) => one.includes(`"record":"${record}"`)) ?? '{}';
  const { set } = JSON.parse(line) as { set?: { sha256?: string } };
  return set?.sha256 !== undefined && files.includes(set.sha256);
}

async function raise(scene: Scene, tablet: Tablet): Promise<Grown> {
  const { page } = tablet;
  if (!(await openRecord(scene, tablet))) return null;
  if ((await page.locator('.kind-keys').count()) > 0) return null;
  await pressNext(page);
  const key = page.getByRole('button', { name: /^RAISE/, disabled: false });
  if ((await key.count()) === 0) return exactly(0);
  await key.click();
  await page.waitForURL(/\/airframe\?raised=/);
  // NEXT may have taken the drawing's thickness on the way.
  return { least: 1, most: 2 };
}

/** Presses NEXT until the last keys are there: what was not answered is passed by. */
async function pressNext(page: Page): Promise<void> {
  const last = page.locator('.raise-last');
  const next = page.getByRole('button', { name: /^(Next:|NEXT)/ });
  for (let asked = 0; asked < 20 && (await last.count()) === 0; asked += 1)
    // The key can be gone by now, for the one before was the last.
    await next.click({ timeout: 500 }).catch(() => undefined);
  await last.waitFor();
}

async function undo(scene: Scene, tablet: Tablet): Promise<Grown> {
  if (!(await openRecord(scene, tablet))) return null;
  const key = keyOf(tablet.page, 'UNDO');
  if ((await key.getAttribute('aria-disabled')) === 'true') return null;
  await key.click();
  return { least: 0, most: 1 };
}

async function anotherScreen(scene: Scene, tablet: Tablet): Promise<Grown> {
  const row = await pickRow(scene, tablet);
  const own = row ? [`/defects/${fileOf(row)}`, `/airframe/${fileOf(row)}`] : [];
  await tablet.page.goto(scene.chance.one(['/airframe', '/defects', '/waiting', ...own]));
  await settled(tablet.page);
  return exactly(0);
}

async function reload(_scene: Scene, tablet: Tablet): Promise<Grown> {
  await tablet.page.reload();
  await settled(tablet.page);
  return exactly(0);
}

/** Closes the tab, and opens a new one where the old one was. */
async function reopen({ server }: Scene, tablet: Tablet): Promise<Grown> {
  const address = new URL(tablet.page.url()).pathname;
  await tablet.page.close();
  tablet.page = await tablet.device.context.newPage();
  await listen(tablet.device, server, tablet.page);
  await tablet.page.goto(address);
  await settled(tablet.page);
  return exactly(0);
}

async function killServer({ server }: Scene): Promise<Grown> {
  if (!server.isRunning()) return null;
  await server.kill();
  return exactly(0);
}

async function restartServer({ server }: Scene): Promise<Grown> {
  if (server.isRunning()) return null;
  await server.restart();
  return exactly(0);
}

async function sendNow(scene: Scene, tablet: Tablet): Promise<Grown> {
  const key = await pressSend(tablet);
  await expect.poll(() => key.innerText(), { timeout: 60_000 }).not.toContain('sending');
  if (scene.server.isRunning())
    await expect.poll(() => key.innerText(), { timeout: 60_000 }).toContain('all sent');
  return exactly(0);
}

/** Takes a picture, presses Send now, and ends the server in the middle of one kind of request. */
async function sendCutOff(scene: Scene, tablet: Tablet): Promise<Grown> {
  const { chance, server } = scene;
  if (!server.isRunning()) return null;
  const cue = chance.one([/\/api\/entries\?/, /\/missing$/, /\/photographs\/[0-9a-f]{64}$/]);
  const late_ms = chance.whole(2) * chance.whole(20);
  await press(scene, tablet);
  await tablet.page.getByText('picture, stored on this tablet').waitFor();
  const cut = tablet.page
    .waitForRequest((request) => cue.test(request.url()), { timeout: 5000 })
    // It may have been sent already: then the server just goes.
    .catch(() => undefined)
    .then(() => pause(late_ms))
    .then(() => server.kill());
  await pressSend(tablet);
  await cut;
  return exactly(2);
}

async function pressSend(tablet: Tablet): Promise<Locator> {
  await at(tablet, '/waiting');
  const key = keyOf(tablet.page, 'SEND');
  await key.click();
  return key;
}

async function changePerson({ chance }: Scene, tablet: Tablet): Promise<Grown> {
  tablet.person = chance.one(PEOPLE.filter((name) => name !== tablet.person));
  await signIn(tablet.page, tablet.person);
  await settled(tablet.page);
  return exactly(0);
}

async function photographBrokenOff(scene: Scene, tablet: Tablet): Promise<Grown> {
  await press(scene, tablet);
  await breakOff(scene, tablet);
  return { least: 1, most: 2 };
}

async function ringBrokenOff(scene: Scene, tablet: Tablet): Promise<Grown> {
  if (!(await openPicture(scene, tablet))) return null;
  await keyOf(tablet.page, 'KEEP').click();
  await breakOff(scene, tablet);
  return { least: 0, most: 1 };
}

/** What can come in between while an act is being stored. */
async function breakOff(scene: Scene, tablet: Tablet): Promise<void> {
  await pause(scene.chance.whole(150));
  await scene.chance.one([reload, reopen])(scene, tablet);
}

/** Opens one of the run's records at the airframe; false: there is none yet. */
async function openRecord(scene: Scene, tablet: Tablet): Promise<boolean> {
  const { page } = tablet;
  if (/\/airframe\/[A-Z]+\d{4}$/.test(page.url()) && scene.chance.whole(3) > 0) {
    await passQuestions(page);
    return true;
  }
  const row = await pickRow(scene, tablet);
  if (!row) return false;
  await at(tablet, `/airframe/${fileOf(row)}`);
  await page.locator('.measure-head').waitFor();
  // The last keys are kept by design: what was typed and not answered would be typed on.
  await passQuestions(page);
  return true;
}

async function pickRow({ chance }: Scene, tablet: Tablet): Promise<Row | null> {
  const { rows } = await held(tablet);
  const drafts = rows.filter(({ number, state }) => /^[D-Z]/.test(number) && state === 'Draft');
  return drafts.length > 0 ? chance.one(drafts) : null;
}

function fileOf({ number }: Row): string {
  return number.replace('/', '');
}

async function at({ page }: Tablet, path: string): Promise<void> {
  if (new URL(page.url()).pathname !== path) await page.goto(path);
  await settled(page);
}

function keyOf(page: Page, label: string): Locator {
  return page.getByRole('button', { name: new RegExp(`^${label}`) });
}

export const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));
