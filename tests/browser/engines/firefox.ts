// Firefox over Marionette, the protocol that its drivers speak: no driver program is needed.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { join } from 'node:path';
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

// Without the first two, asking to keep the store waits for a person for ever.
const PREFERENCES = {
  'dom.storageManager.prompt.testing': true,
  'dom.storageManager.prompt.testing.allow': true,
  'marionette.port': 0,
  // What a page says to its console would be forgotten with the page.
  'devtools.console.stdout.content': true,
  'app.normandy.enabled': false,
  'app.update.disabledForTesting': true,
  'datareporting.policy.dataSubmissionEnabled': false,
  'network.captive-portal-service.enabled': false,
  'network.connectivity-service.enabled': false,
  'toolkit.telemetry.server': '',
  'services.settings.server': 'data:,',
};

// What was thrown in a page of the address, and every breach of its policy.
const THROWN = `
  const [address] = arguments;
  return Services.console.getMessageArray()
    .filter((one) => one instanceof Ci.nsIScriptError)
    .filter((one) => !(one.flags & Ci.nsIScriptError.warningFlag))
    .filter((one) => \`\${one.sourceName} \${one.errorMessage}\`.includes(address))
    .map((one) => \`\${one.errorMessage} \${one.sourceName}:\${one.lineNumber}\`);
`;

// The browser itself asks for the icon, and breaks off when the page is left at once. So it does
// with screens loaded ahead; a screen that is wanted and does not come fails the journey itself.
const KNOWN = /Failed to load \S+\/(?:icon\.svg|assets\/\S+ A ServiceWorker intercepted)/;

/** Start Firefox without a screen, over a profile that is removed with it. */
export async function startFirefox(): Promise<Engine> {
  const { folder, remove } = ownFolder('firefox');
  const lines = Object.entries(PREFERENCES).map(
    ([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});`,
  );
  writeFileSync(join(folder, 'user.js'), lines.join('\n'));
  const program = installed('Firefox', '/usr/bin/firefox-esr', '/usr/bin/firefox');
  const words = ['--headless', '--no-remote', '--marionette', '--remote-allow-system-access'];
  const home = { HOME: folder, TZ: 'Europe/London' };
  const { child, printed } = start(program, [...words, '--profile', folder], home);
  const file = join(folder, 'MarionetteActivePort');
  const port = await awaited(
    'Firefox',
    () => existsSync(file) && Number(readFileSync(file, 'utf8')),
  );
  const ask = askOver(connect(port, '127.0.0.1'));
  await ask('WebDriver:NewSession', { capabilities: { alwaysMatch: {} } });
  const asBrowser = async (script: string, args: string[] = []) => {
    await ask('Marionette:SetContext', { value: 'chrome' });
    const found = await ask('WebDriver:ExecuteScript', { script, args });
    await ask('Marionette:SetContext', { value: 'content' });
    return found;
  };
  return {
    send: (command, params) => ask(COMMANDS[command].marionette, params),
    problems: async (address) => [
      ...consoleErrors(printed.join('')),
      ...((await asBrowser(THROWN, [address])) as string[]).filter((one) => !KNOWN.test(one)),
    ],
    close: async () => {
      await end(child);
      remove();
    },
  };
}

/** The browser's own fetching of settings fails here, and says so in the same way. */
function consoleErrors(printed: string): string[] {
  return printed.split('\n').filter((line) => /^console\.error: (?!RSLoader)/.test(line));
}

/** Messages are `length:[0, id, command, params]`, answers `length:[1, id, error, result]`. */
function askOver(socket: Socket) {
  const waiting = new Map<number, (error: Refusal | null, result: unknown) => void>();
  let last = 0;
  readMessages(socket, (message) => {
    if (!Array.isArray(message)) return; // the greeting
    const [, id, error, result] = message as [1, number, Refusal | null, unknown];
    waiting.get(id)?.(error, result);
    waiting.delete(id);
  });
  return (command: string, params: Params = {}) =>
    new Promise<unknown>((done, fail) => {
      last += 1;
      waiting.set(last, (error, result) =>
        error ? fail(new DriverRefused(error.error, error.message)) : done(answerOf(result)),
      );
      const text = JSON.stringify([0, last, command, params]);
      socket.write(`${Buffer.byteLength(text)}:${text}`);
    });
}

interface Refusal {
  error: string;
  message: string;
}

function answerOf(result: unknown): unknown {
  return result && typeof result === 'object' && 'value' in result ? result.value : result;
}

function readMessages(socket: Socket, take: (message: unknown) => void): void {
  let held = Buffer.alloc(0);
  socket.on('data', (bytes) => {
    held = Buffer.concat([held, bytes]);
    for (;;) {
      const colon = held.indexOf(':');
      const length = Number(held.subarray(0, Math.max(colon, 0)));
      if (colon < 0 || held.length < colon + 1 + length) return;
      take(JSON.parse(held.subarray(colon + 1, colon + 1 + length).toString()));
      held = held.subarray(colon + 1 + length);
    }
  });
}
