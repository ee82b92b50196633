// Real servers on ephemeral ports, each over its own copy of a book.
import { type ChildProcess, spawn } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inject } from 'vitest';

export type Book = 'demo' | 'empty';
export const DEMO_TODAY = '2025-11-03';

export interface Server {
  readonly address: string;
  readonly folder: string;
  /** What the server printed since it was first started. */
  log(): string;
  isRunning(): boolean;
  /** Whether a test ever ended it at once: then answers were cut in the middle. */
  wasKilled(): boolean;
  /** End it at once, as a power cut would. */
  kill(): Promise<void>;
  /** Start it again on the same port and book, on another day where one is given. */
  restart(today?: string): Promise<void>;
  /** End it and remove its book. */
  close(): Promise<void>;
}

/** Which Python module is the server, as words; asked at every start. */
export type Program = () => string[];
const INSTALLED: Program = () => ['skinpin.cli'];

/** Start a server over a copy of the demo book, or over an empty folder. */
export async function startServer(book: Book, program = INSTALLED): Promise<Server> {
  const folder = mkdtempSync(join(tmpdir(), 'skinpin-'));
  if (book === 'demo') cpSync(inject('demoBook'), folder, { recursive: true });
  const port = await freePort();
  const address = `http://127.0.0.1:${port}`;
  const printed: string[] = [];
  let child = launch(program(), folder, port, printed);
  await waitForHealth(address, child, printed);
  let was_killed = false;
  const kill = () => {
    was_killed = true;
    return end(child, 'SIGKILL');
  };
  return {
    address,
    folder,
    log: () => printed.join(''),
    isRunning: () => child.exitCode === null && child.signalCode === null,
    wasKilled: () => was_killed,
    kill,
    restart: async (today) => {
      await kill();
      child = launch(program(), folder, port, printed, today);
      await waitForHealth(address, child, printed);
    },
    close: async () => {
      await end(child, 'SIGTERM');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function launch(
  program: string[],
  folder: string,
  port: number,
  printed: string[],
  today = DEMO_TODAY,
): ChildProcess {
  const root = inject('root');
  const words = ['-m', ...program, 'serve', '--data', folder, '--port', String(port)];
  const child = spawn(join(root, '.venv/bin/python'), words, {
    cwd: root,
    env: { ...process.env, SKINPIN_TODAY: today },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (bytes: Buffer) => printed.push(bytes.toString()));
  }
  return child;
}

async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((done) => child.once('exit', done));
  const late = setTimeout(() => child.kill('SIGKILL'), 10_000);
  child.kill(signal);
  await gone;
  clearTimeout(late);
}

/**
 * Return a port that nobody holds now. While a server is away its port must stay free for it, so
 * it lies below those that systems hand out to whoever calls somebody, a browser for one.
 */
export async function freePort(): Promise<number> {
  for (let tried = 0; tried < 50; tried += 1) {
    const port = randomInt(10_000, 32_000);
    const probe = createServer();
    const isFree = await new Promise<boolean>((done) => {
      probe.once('error', () => done(false));
      probe.listen(port, '127.0.0.1', () => probe.close(() => done(true)));
    });
    if (isFree) return port;
  }
  throw new Error('No free port was found.');
}

async function waitForHealth(address: string, child: ChildProcess, printed: string[]) {
  const until = Date.now() + 90_000;
  while (Date.now() < until && child.exitCode === null) {
    const answer = await fetch(`${address}/api/health`).catch(() => undefined);
    if (answer?.ok) return;
    await new Promise((done) => setTimeout(done, 50));
  }
  throw new Error(`The server at ${address} did not become healthy:\n${printed.join('')}`);
}
