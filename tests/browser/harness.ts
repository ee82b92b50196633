// What a journey needs, in one call: a server, a browser, devices, and a check after each test.
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { type Device, openDevice, type Size, startBrowser } from './device';
import { type Book, type Program, type Server, startServer } from './server';

export {
  accessibilityProblems,
  type Device,
  lasting,
  picture,
  type Size,
  waitForOffline,
} from './device';
export type { Server } from './server';

export interface Stage {
  readonly server: Server;
  open(size: Size): Promise<Device>;
}

/**
 * Put up a stage for the journeys of one file. After each test every device must be free of
 * console errors, thrown errors and policy breaches; then the devices are closed.
 */
export function useStage(book: Book, program?: Program): Stage {
  let server: Server | undefined;
  let browser: Browser | undefined;
  let devices: Device[] = [];
  beforeAll(async () => {
    [server, browser] = await Promise.all([startServer(book, program), startBrowser()]);
  });
  afterEach(async () => {
    const problems = devices.flatMap((device) => device.problems);
    await Promise.all(devices.map((device) => device.context.close()));
    devices = [];
    // What the server printed belongs to the failure: a 500 is explained only there.
    expect(problems, problems.length > 0 ? `\n${server?.log().slice(-6_000)}` : '').toEqual([]);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });
  return {
    get server() {
      if (server === undefined) throw new Error('The stage is up only inside a test.');
      return server;
    },
    async open(size) {
      if (browser === undefined) throw new Error('The stage is up only inside a test.');
      const device = await openDevice(browser, this.server, size);
      devices.push(device);
      return device;
    },
  };
}
