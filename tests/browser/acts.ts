// What people do in a journey, in the words of the screens.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, inject } from 'vitest';
import type { Server } from './server';

export interface DemoPerson {
  name: string;
  passcode: string;
}

/** Name and passcode of a person of the demo book. */
export function demoPerson(name: string): DemoPerson {
  const file = join(inject('root'), 'sample_data/skinpin_demo/data/histories.json');
  const { people } = JSON.parse(readFileSync(file, 'utf8')) as { people: DemoPerson[] };
  const person = people.find((one) => one.name === name);
  if (!person) throw new Error(`Nobody of the demo is called ${name}.`);
  return person;
}

/** Signs in over the wire and returns the cookie of the session. */
export async function session(server: Server, name: string): Promise<string> {
  const people = (await (await fetch(`${server.address}/api/people`)).json()) as {
    person: string;
    name: string;
  }[];
  const person = people.find((one) => one.name === name)?.person;
  const answer = await fetch(`${server.address}/api/sign-in`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: server.address },
    body: JSON.stringify({ person, passcode: demoPerson(name).passcode }),
  });
  if (!answer.ok) throw new Error(`${name} could not sign in: ${await answer.text()}`);
  return (answer.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
}

/** A one-time code for a tablet, asked for as the lead. */
export async function enrolmentCode(server: Server): Promise<string> {
  const answer = await fetch(`${server.address}/api/enrolment-codes`, {
    method: 'POST',
    headers: {
      'content-type': 'application/json',
      origin: server.address,
      cookie: await session(server, 'Lead'),
    },
    body: '{}',
  });
  if (!answer.ok) throw new Error(`No code was given: ${await answer.text()}`);
  return ((await answer.json()) as { code: string }).code;
}

/** Enrols a page's browser as a tablet; the code is typed in the app. */
export async function enrol(page: Page, server: Server): Promise<void> {
  await page.goto('/enrol');
  await page.getByLabel('One-time code').fill(await enrolmentCode(server));
  await page.getByRole('button', { name: /^ENROL AS A TABLET/ }).click();
  await page.waitForURL((url) => url.pathname === '/');
}

/** Signs a person in on the page: name, then passcode by the keys of the pad. */
export async function signIn(page: Page, name: string): Promise<void> {
  await page.goto('/');
  await page.getByRole('button', { name: new RegExp(`^${name}`) }).click();
  for (const figure of demoPerson(name).passcode)
    await page.getByRole('button', { name: figure, exact: true }).click();
  await page.getByRole('button', { name: /^SIGN IN/ }).click();
  await page.waitForURL((url) => url.pathname !== '/');
}

/** Types a figure on the number pad, key by key, then NEXT. */
export async function typeFigure(page: Page, figure: string): Promise<void> {
  for (const one of figure)
    await page.getByRole('button', { name: one === '.' ? 'point' : one, exact: true }).click();
  await page.getByRole('button', { name: /^Next:/ }).click();
}

/** Passes what a record asks once: which instrument today, and whether the hand is right. */
export async function passQuestions(page: Page): Promise<void> {
  const asked = page.locator('.sheet-keys').getByRole('button', { name: /^(NEXT ►\s*none|KEEP)/ });
  const keys = page.locator('.kind-keys, .pad, .choice-keys, .raise-keys');
  await keys.or(asked).first().waitFor();
  for (let passed = 0; passed < 2 && (await keys.count()) === 0; passed += 1) {
    await asked.first().click();
    await keys.or(asked).first().waitFor();
  }
}

/** The line of the title block that says what waits. */
export async function waiting(page: Page): Promise<string> {
  const cell = page
    .locator('.title-cell', { hasText: 'Waiting on this tablet' })
    .locator('dd')
    .last();
  return (await cell.innerText()).replace(/\s+/g, ' ').trim();
}

/**
 * Waits until a sheet has what it asks the server for. Till then what stands below it moves, and a
 * press that ends beside the key it began on is none.
 */
export function calm(page: Page): Promise<void> {
  return page.waitForLoadState('networkidle');
}

/** The letter of a tablet, once its title block has it. */
export async function letterOf(page: Page): Promise<string> {
  const cell = page
    .locator('.title-cell', { hasText: /^Tablet/ })
    .locator('dd')
    .first();
  const letter = async () => (await cell.innerText()).trim();
  await expect.poll(letter).toMatch(/^[A-Z]{1,2}$/);
  return letter();
}

/** How much waits in the stores of this browser: they are ahead of what the title block says. */
function unsentHere(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const names = (await indexedDB.databases()).map(({ name }) => name ?? '');
    const books = names.filter((one) => one.startsWith('skinpin-') && !one.endsWith(' again'));
    const counted = books.map(async (name) => {
      const asked = <T>(request: IDBRequest<T>) =>
        new Promise<T>((done, fail) => {
          request.onsuccess = () => done(request.result);
          request.onerror = () => fail(request.error);
        });
      const database = await asked(indexedDB.open(name));
      const tx = database.transaction(['unsent', 'unsent_files']);
      const stores = ['unsent', 'unsent_files'].map((store) =>
        asked(tx.objectStore(store).count()),
      );
      const counts = await Promise.all(stores);
      database.close();
      return counts.reduce((sum, count) => sum + count, 0);
    });
    return (await Promise.all(counted)).reduce((sum, count) => sum + count, 0);
  });
}

/** Waits until all that was stored here is sent, and the title block says so. */
export async function sent(page: Page): Promise<void> {
  await expect.poll(() => unsentHere(page)).toBe(0);
  await expect.poll(() => waiting(page)).toBe('Nothing waiting');
}

/** Goes to the sheet of what waits and sends it; the server must be there. */
export async function sendNow(page: Page): Promise<void> {
  await page.goto('/waiting');
  await page.getByRole('button', { name: /^SEND/ }).click();
  await sent(page);
}

/** A JPEG with true pixels, wide and not square, made in the browser. */
export async function madePicture(page: Page, width = 1600, height = 1200): Promise<Buffer> {
  const base64 = await page.evaluate(
    async ([w, h]) => {
      const canvas = new OffscreenCanvas(w ?? 16, h ?? 12);
      const pen = canvas.getContext('2d') as OffscreenCanvasRenderingContext2D;
      pen.fillStyle = '#6f7a70';
      pen.fillRect(0, 0, canvas.width, canvas.height);
      pen.fillStyle = '#1d221e';
      for (let dot = 0; dot < 60; dot += 1)
        pen.fillRect(500 + ((dot * 97) % 600), 350 + ((dot * 53) % 400), 9 + (dot % 7), 7);
      const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.9 });
      canvas.width = 0;
      const bytes = new Uint8Array(await blob.arrayBuffer());
      let text = '';
      for (const byte of bytes) text += String.fromCharCode(byte);
      return btoa(text);
    },
    [width, height],
  );
  return Buffer.from(base64, 'base64');
}

/** Presses the shutter and hands over a picture; returns the number given. */
export async function photograph(page: Page): Promise<string> {
  const picture = await madePicture(page);
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: /^SHUTTER/ }).click();
  await (await chooser).setFiles({ name: 'taken.jpg', mimeType: 'image/jpeg', buffer: picture });
  await page.waitForURL(/\/airframe\/[A-Z]+\d{4}\/photograph\//);
  return new URL(page.url()).pathname.split('/')[2] ?? '';
}
