// WebKitGTK over its driver, in a window of its own on a screen that nobody sees.
import { join } from 'node:path';
import { inject } from 'vitest';
import { freePort } from '../server';
import {
  awaited,
  COMMANDS,
  DriverRefused,
  type Engine,
  end,
  installed,
  ownFolder,
  type Params,
  start,
} from './wire';

/** Start WebKit over a store that is removed with it. */
export async function startWebkit(): Promise<Engine> {
  const { folder, remove } = ownFolder('webkit');
  const screen = await startScreen();
  const port = await freePort();
  const program = installed('The driver of WebKit', '/usr/bin/WebKitWebDriver');
  const env = { DISPLAY: screen.name, HOME: folder, NO_AT_BRIDGE: '1', TZ: 'Europe/London' };
  const { child, printed } = start(program, [`--port=${port}`], env);
  const ask = askAt(`http://127.0.0.1:${port}`);
  await awaited('The driver of WebKit', () => ask('GET', '/status').catch(() => null));
  const window = join(inject('root'), 'tests/browser/engines/webkit_window.py');
  const session = `/session/${await newSession(ask, [window, folder])}`;
  return {
    send: (command, params = {}) => {
      const { method, path } = COMMANDS[command];
      return ask(method, session + path.replace('{id}', String(params.id)), params);
    },
    problems: async () => consoleErrors(printed.join('')),
    close: async () => {
      await ask('DELETE', session).catch(() => {}); // its window may be gone before it answers
      await end(child);
      await end(screen.child);
      remove();
    },
  };
}

type Ask = ReturnType<typeof askAt>;

async function newSession(ask: Ask, args: string[]): Promise<string> {
  const options = { binary: installed('Debian’s Python', '/usr/bin/python3'), args };
  const alwaysMatch = { 'webkitgtk:browserOptions': options };
  const answer = await ask('POST', '/session', { capabilities: { alwaysMatch } });
  return (answer as { sessionId: string }).sessionId;
}

async function startScreen() {
  const program = installed('A screen that nobody sees', '/usr/bin/Xvfb');
  const words = ['-displayfd', '3', '-screen', '0', '1300x1400x24', '-nolisten', 'tcp'];
  const { child } = start(program, words, {}, true);
  let number = '';
  child.stdio[3]?.on('data', (bytes: Buffer) => {
    number += bytes.toString();
  });
  await awaited('The screen', () => number.includes('\n'));
  return { child, name: `:${number.trim()}` };
}

function askAt(base: string) {
  return async (method: string, path: string, params: Params = {}): Promise<unknown> => {
    const body = method === 'POST' ? JSON.stringify(params) : null;
    const answer = await fetch(base + path, { method, body });
    const { value } = (await answer.json()) as { value: unknown };
    if (answer.ok) return value;
    const { error, message } = value as { error: string; message: string };
    throw new DriverRefused(error, message);
  };
}

const KNOWN = [
  // This engine does not know the directive; it says so once a page and goes by the others.
  /Unrecognized Content-Security-Policy directive 'manifest-src'/,
  // Its words for a request to the page's own server that ended because the page was left.
  /Fetch API cannot load \S+ due to access control checks/,
];

function consoleErrors(printed: string): string[] {
  const lines = printed.split('\n');
  const errors = lines.filter((line) => /CONSOLE (\w+ )?ERROR/.test(line));
  return errors.filter((line) => !KNOWN.some((words) => words.test(line)));
}
