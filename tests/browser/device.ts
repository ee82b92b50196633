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

/** Start Chromium. */
export function startBrowser(): Promise<Browser> {
  return chromium.launch(startOptions());
}

/** Open a device of its own, and listen for everything that goes wrong on its page. */
export async function openDevice(browser: Browser, server: Server, size: Size): Promise<Device> {
  const context = await browser.newContext(deviceOptions(server, size));
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
    // A server that the test killed cannot answer; the browser logs each attempt by itself.
    const isAway =
      !server.isRunning() ||
      /ERR_(CONNECTION|EMPTY|NETWORK|INTERNET|SOCKET_NOT_CONNECTED)/.test(words);
    if (words.startsWith('Failed to load resource') && isAway) return;
    if (!device.expected.some((part) => words.includes(part))) device.problems.push(words);
  };
  page.on('pageerror', (error) => note(`thrown: ${error.stack ?? error.message}`));
  page.on('console', (line) => {
    if (line.type() === 'error') note(`${line.text()} ${line.location().url}`.trim());
  });
}

/** Return what axe-core finds at WCAG 2.2 AA, one line for each rule with its first target. */
export async function accessibilityProblems(page: Page): Promise<string[]> {
  // As a function evaluated by the debugger it needs no script tag, which the policy would refuse.
  await page.evaluate(await axeSource());
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: typeof import('axe-core') };
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
    const found = await axe.run(document, { runOnly: tags });
    return found.violations.map((rule) => `${rule.id}: ${rule.help}: ${rule.nodes[0]?.target}`);
  });
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
