// Drives the real server of `bench_server.py`: a fresh book for each schedule, faults on demand.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface, type Interface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The book that every schedule begins with. */
export interface FirstBook {
  book: string;
  /** A lead, an inspector, a fitter. */
  people: string[];
  /** Codes, each of which enrols one tablet. */
  codes: string[];
  passcode: string;
}

/** Everything the server holds. */
export interface Account {
  entries: Record<string, string>;
  standing: Record<string, [string, { values: object; awaited?: string[] }]>;
  rows: Record<string, object>;
  files: string[];
  damaged: string[];
  faults: string[];
}

export class Bench {
  address = '';
  private readonly child: ChildProcess;
  private readonly lines: Interface;
  private said = '';
  /** The last question: one is put after the other. */
  private asked: Promise<unknown> = Promise.resolve();
  private waiting: { done(value: unknown): void; failed(error: Error): void } | null = null;

  constructor() {
    const words = ['-m', 'tests.faults.bench_server'];
    this.child = spawn(`${ROOT}.venv/bin/python`, words, {
      cwd: ROOT,
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    this.lines = createInterface({ input: this.child.stdout as NodeJS.ReadableStream });
    this.lines.on('line', (line) => this.waiting?.done(JSON.parse(line)));
    this.child.on('exit', () => {
      this.waiting?.failed(new Error(`The server of the schedules ended:\n${this.said}`));
    });
    this.child.stderr?.on('data', (bytes: Buffer) => {
      this.said += bytes.toString();
    });
  }

  async start(): Promise<this> {
    const { port } = (await this.answer()) as { port: number };
    this.address = `http://127.0.0.1:${port}`;
    return this;
  }

  /** Has the server do something, once it has done what was asked before. */
  ask<T = null>(verb: string, ...given: unknown[]): Promise<T> {
    const done = this.asked.then(() => this.askNow<T>(verb, given));
    this.asked = done.catch(() => {});
    return done;
  }

  private async askNow<T>(verb: string, given: unknown[]): Promise<T> {
    const answer = this.answer();
    this.child.stdin?.write(`${JSON.stringify([verb, ...given])}\n`);
    const { done, failed } = (await answer) as { done: T; failed?: string };
    if (failed) throw new Error(`The server failed at ${verb}: ${failed}`);
    return done;
  }

  async close(): Promise<void> {
    const gone = once(this.child, 'exit');
    this.child.stdin?.end();
    await gone;
  }

  private answer(): Promise<unknown> {
    return new Promise((done, failed) => {
      this.waiting = { done, failed };
    });
  }
}
