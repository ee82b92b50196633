// A tablet or a desk: its own browser profile, one page, and a record of what went wrong on it.
import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { inject } from 'vitest';
import type { Server } from './server';

export type Size = 'airframe' | 'airframe wide' | 'desk';
const SIZES: Record<Size, { width: number; height: number }> = {
  airframe: { width: 800, height: 1280 },
  'airframe wide': { width: 1280, height: 800 },
  desk: { width: 1280, height: 800 },
};

export interface Device {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Console errors, thrown errors and breaches of the content security policy so far. */
  readonly problems: string[];
  /** Errors that a test expects, as words that the message contains. */
  readonly expected: string[];
}

/** How Chromium is started; `CHROMIUM` names another program than the installed one. */
export function startOptions(): { executablePath: string; args: string[] } {
  const known = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser'];
  const executablePath = known.find((file) => file !== undefined && existsSync(file));
  if (executablePath === undefined) throw new Error('Chromium is missing: install chromium.');
  return {
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  };
}

/** What every device of a size is, whether its profile outlives the browser or not. */
export function deviceOptions(server: Server, size: Size) {
  return {
    viewport: SIZES[size],
    hasTouch: size !== 'desk',
    baseURL: server.address,
    reducedMotion: 'reduce',
    timezoneId: 'Europe/London',
    locale: 'en-GB',
  } as const;
}

/** `SLOW` makes every page's processor so many times slower: what is read too soon shows. */
const SLOWER = Number(process.env.SLOW ?? 1);
/** How long anything on a page is waited for: it is no claim, and a busy computer takes long. */
const PATIENCE_MS = 60_000;

async function slowDown(context: BrowserContext, page: Page): Promise<void> {
  const debug = await context.newCDPSession(page);
  await debug.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
}

/** What every context is told before its first page is opened. */
export async function makeReady(context: BrowserContext): Promise<void> {
  context.setDefaultTimeout(PATIENCE_MS);
  if (SLOWER <= 1) return;
  for (const page of context.pages()) await slowDown(context, page);
  context.on('page', (page) => void slowDown(context, page).catch(() => undefined));
}

/** Start Chromium. */
export function startBrowser(): Promise<Browser> {
  return chromium.launch(startOptions());
}

/** Open a device of its own, and listen for everything that goes wrong on its page. */
export async function openDevice(browser: Browser, server: Server, size: Size): Promise<Device> {
  const context = await browser.newContext(deviceOptions(server, size));
  await makeReady(context);
  const page = await context.newPage();
  const device: Device = { page, context, problems: [], expected: [] };
  await listen(device, server);
  return device;
}

/** Listen on one page of a device: its first, or one that was opened after it. */
export async function listen(device: Device, server: Server, page = device.page): Promise<void> {
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (breach) => {
      console.error(`policy breach: ${breach.violatedDirective} ${breach.blockedURI}`);
    });
  });
  const note = (words: string) => {
    if (words.startsWith('Failed to load resource') && isNetwork(words, server)) return;
    if (!device.expected.some((part) => words.includes(part))) device.problems.push(words);
  };
  page.on('pageerror', (error) => note(`thrown: ${error.stack ?? error.message}`));
  page.on('console', (line) => {
    if (line.type() === 'error') note(`${line.text()} ${line.location().url}`.trim());
  });
}

/**
 * Whether the browser only says that no whole answer came. Once a test killed the server, an
 * answer may have been cut anywhere, and is told of when the next server runs already.
 */
function isNetwork(words: string, server: Server): boolean {
  if (server.wasKilled()) return /net::ERR_(?!BLOCKED|ABORTED|FILE|UNSAFE)/.test(words);
  return /ERR_(CONNECTION|EMPTY|NETWORK|INTERNET|SOCKET_NOT_CONNECTED)/.test(words);
}

/**
 * Ask until nothing is found any more, and return what still is found then: a sheet may be looked
 * at while its last part is being drawn.
 */
export async function lasting<T>(find: () => Promise<T[]>, patience_ms = 8000): Promise<T[]> {
  const until = Date.now() + patience_ms;
  for (;;) {
    const found = await find();
    if (found.length === 0 || Date.now() > until) return found;
    await new Promise((done) => setTimeout(done, 300));
  }
}

/** Return what axe-core finds at WCAG 2.2 AA, one line for each rule with its first target. */
export async function accessibilityProblems(page: Page): Promise<string[]> {
  // As a function evaluated by the debugger it needs no script tag, which the policy would refuse.
  const source = await axeSource();
  return lasting(async () => {
    await page.evaluate(source);
    return page.evaluate(runAxe);
  });
}

/** Runs in the page. */
async function runAxe(): Promise<string[]> {
  const { axe } = window as unknown as { axe: typeof import('axe-core') };
  const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
  const found = await axe.run(document, { runOnly: tags });
  return found.violations.map((rule) => `${rule.id}: ${rule.help}: ${rule.nodes[0]?.target}`);
}

async function axeSource(): Promise<string> {
  const { source } = await import('axe-core');
  return source;
}

/** Write a picture into screenshots/ and return its file. */
export async function picture(page: Page, name: string): Promise<string> {
  const folder = join(inject('root'), 'screenshots');
  mkdirSync(folder, { recursive: true });
  const file = join(folder, `${name}.png`);
  await page.screenshot({ path: file });
  return file;
}

/** Wait until the service worker controls the page, so that it opens without the server. */
export async function waitForOffline(page: Page): Promise<void> {
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
}
