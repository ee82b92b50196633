// The few commands of WebDriver that a journey needs, under the name that each protocol gives them.
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const COMMANDS = {
  go: { method: 'POST', path: '/url', marionette: 'WebDriver:Navigate' },
  run: { method: 'POST', path: '/execute/sync', marionette: 'WebDriver:ExecuteScript' },
  size: { method: 'POST', path: '/window/rect', marionette: 'WebDriver:SetWindowRect' },
  touch: { method: 'POST', path: '/actions', marionette: 'WebDriver:PerformActions' },
  press: { method: 'POST', path: '/element/{id}/click', marionette: 'WebDriver:ElementClick' },
  type: { method: 'POST', path: '/element/{id}/value', marionette: 'WebDriver:ElementSendKeys' },
  picture: { method: 'GET', path: '/screenshot', marionette: 'WebDriver:TakeScreenshot' },
} as const;

export type Command = keyof typeof COMMANDS;
export type Params = Record<string, unknown>;

/** A started browser with one window of a tablet's size and a store of its own. */
export interface Engine {
  send(command: Command, params?: Params): Promise<unknown>;
  /** What the page of this address printed as an error so far. */
  problems(address: string): Promise<string[]>;
  close(): Promise<void>;
}

/** What a driver refuses; `code` is its word for it. */
export class DriverRefused extends Error {
  constructor(
    readonly code: string,
    message: string,
  ) {
    super(`${code}: ${message}`);
  }
}

/** Return the first program of a list that is installed. */
export function installed(what: string, ...files: string[]): string {
  const found = files.find((file) => existsSync(file));
  if (!found) throw new Error(`${what} is missing: ${files.join(' or ')} was not found.`);
  return found;
}

/** Make a folder for one run of a browser, and say how it is removed once the browser has ended. */
export function ownFolder(name: string) {
  const folder = mkdtempSync(join(tmpdir(), `skinpin-${name}-`));
  // What a browser still writes while it ends is waited for.
  const remove = () =>
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  return { folder, remove };
}

/** Start a program and keep what it prints; `extra` opens a pipe as descriptor 3. */
export function start(program: string, words: string[], env: NodeJS.ProcessEnv, extra = false) {
  const stdio: ('ignore' | 'pipe')[] = ['ignore', 'pipe', 'pipe'];
  if (extra) stdio.push('pipe');
  const child = spawn(program, words, { env: { ...process.env, ...env }, stdio });
  const printed: string[] = [];
  for (const stream of [child.stdout, child.stderr])
    stream?.on('data', (bytes: Buffer) => printed.push(bytes.toString()));
  return { child, printed };
}

/** End a program and wait until it is gone. */
export async function end(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((done) => child.once('exit', done));
  const late = setTimeout(() => child.kill('SIGKILL'), 3_000);
  child.kill('SIGTERM');
  await gone;
  clearTimeout(late);
}

/** Ask again until there is an answer, or say what did not come. */
export async function awaited<T>(
  what: string,
  ask: () => T | Promise<T>,
  within_ms = 20_000,
): Promise<Exclude<T, false | null | undefined>> {
  const until = Date.now() + within_ms;
  for (;;) {
    const answer = await ask();
    if (answer) return answer as Exclude<T, false | null | undefined>;
    if (Date.now() > until) throw new Error(`${what} did not come within ${within_ms / 1000} s.`);
    await new Promise((done) => setTimeout(done, 50));
  }
}
