// A browser whose profile outlives it, so that its process can be killed and started again.
import { mkdtempSync, readlinkSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium } from 'playwright-core';
import { type Device, deviceOptions, listen, makeReady, startOptions } from './device';
import type { Server } from './server';

export interface Profile {
  readonly folder: string;
  /** Start the browser over this profile. */
  open(): Promise<Device>;
  /** End the browser's process at once, as an empty battery would. */
  kill(): Promise<void>;
  remove(): Promise<void>;
}

/** Make a tablet's profile of its own, for one server. */
export function newProfile(server: Server): Profile {
  const folder = mkdtempSync(join(tmpdir(), 'skinpin-profile-'));
  let context: BrowserContext | undefined;
  const open = async () => {
    context = await chromium.launchPersistentContext(folder, {
      ...startOptions(),
      ...deviceOptions(server, 'airframe'),
    });
    await makeReady(context);
    const page = context.pages()[0] ?? (await context.newPage());
    // Entries go before bytes: a tablet that was put away in between leaves a picture named only.
    const expected = [`404 (Not Found) ${server.address}/api/photographs/`];
    const device: Device = { page, context, problems: [], expected };
    await listen(device, server);
    return device;
  };
  const kill = async () => {
    if (!context) throw new Error('The browser of this profile is not open.');
    const closed = new Promise((done) => context?.once('close', done));
    process.kill(processOf(folder), 'SIGKILL');
    await closed;
    context = undefined;
  };
  const remove = async () => {
    await context?.close();
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  };
  return { folder, open, kill, remove };
}

/** Chromium marks the profile it holds with its computer's name and its process. */
function processOf(folder: string): number {
  const held = readlinkSync(join(folder, 'SingletonLock'));
  const id = Number(/-(\d+)$/.exec(held)?.[1]);
  if (!Number.isInteger(id)) throw new Error(`The lock ${held} of ${folder} names no process.`);
  return id;
}
