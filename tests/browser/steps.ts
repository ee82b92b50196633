// Steps that many journeys begin with, as a person takes them.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { inject } from 'vitest';
import type { Device } from './device';
import type { Server } from './server';

/** Press the key whose label begins with these words. */
export async function press(page: Page, label: string): Promise<void> {
  await key(page, label).click();
}

/** Find the key whose label begins with these words; a label may be broken over lines. */
export function key(page: Page, label: string) {
  const words = label.split(/\s+/).map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return page
    .getByRole('button', { name: new RegExp(`^\\s*${words.join('\\s+')}(?!\\w)`) })
    .first();
}

/** Return the passcode of a person of the demo, from the demo's own data. */
export function passcodeOf(name: string): string {
  const file = join(inject('root'), 'sample_data/skinpin_demo/data/histories.json');
  const { people } = JSON.parse(readFileSync(file, 'utf8')) as {
    people: { name: string; passcode: string }[];
  };
  const found = people.find((person) => person.name === name);
  if (found === undefined) throw new Error(`The demo has no person named ${name}.`);
  return found.passcode;
}

/** Sign the demo's lead in over HTTP and return a code for one tablet. */
export async function enrolmentCode(server: Server, lead = 'Lead'): Promise<string> {
  const listed = await fetch(`${server.address}/api/people`);
  const people = (await listed.json()) as { person: string; name: string }[];
  const person = people.find((one) => one.name === lead)?.person;
  const signed = await post(server, '/api/sign-in', { person, passcode: passcodeOf(lead) });
  const cookie = signed.headers.get('set-cookie')?.split(';')[0] ?? '';
  const told = await post(server, '/api/enrolment-codes', {}, { Cookie: cookie });
  return ((await told.json()) as { code: string }).code;
}

async function post(server: Server, path: string, body: object, more: Record<string, string> = {}) {
  const headers = { 'Content-Type': 'application/json', Origin: server.address, ...more };
  const asked = { method: 'POST', headers, body: JSON.stringify(body) };
  const answer = await fetch(server.address + path, asked);
  if (!answer.ok) throw new Error(`${path} answered ${answer.status}: ${await answer.text()}`);
  return answer;
}

/** Make a device a tablet with a letter; it then holds the whole book. */
export async function enrolTablet(device: Device, server: Server): Promise<void> {
  const { page } = device;
  await page.goto('/enrol');
  await page.getByLabel('One-time code').fill(await enrolmentCode(server));
  await press(page, 'ENROL AS A TABLET');
  await page.waitForURL((address) => address.pathname !== '/enrol');
}

/** Sign a person of the demo in on the screen; works offline on an enrolled tablet. */
export async function signIn(device: Device, name: string): Promise<void> {
  const { page } = device;
  if (new URL(page.url(), 'http://none').pathname !== '/' || page.url() === 'about:blank') {
    await page.goto('/');
  }
  await press(page, name);
  await page.keyboard.type(passcodeOf(name));
  await page.keyboard.press('Enter');
  await page.waitForURL((address) => address.pathname !== '/');
}

/** Enrol a tablet and sign a person in on it, to where that person was last. */
export async function tabletOf(device: Device, server: Server, name: string): Promise<void> {
  await enrolTablet(device, server);
  await signIn(device, name);
}

/** Sign a person in at a desk and make the browser a desk of its own. */
export async function deskOf(device: Device, name: string): Promise<void> {
  await signIn(device, name);
  await press(device.page, 'USE AS A DESK');
  await device.page.waitForURL('**/defects');
}

/** Choose the light on this device and show the page in it. */
export async function setLight(page: Page, light: 'outside' | 'inside'): Promise<void> {
  await page.evaluate((chosen) => localStorage.setItem('skinpin.light', chosen), light);
  await page.reload();
}
