import { beforeEach, describe, expect, it, vi } from 'vitest';

/** Not named in the import: its types are those of workers, which would be every test’s then. */
const SOURCE = new URL('../../../frontend/src/offline/worker.ts', import.meta.url).pathname;

/** The shells of one browser, as a service worker sees them. */
class Shells {
  readonly all = new Map<string, Map<string, string>>();

  constructor(private readonly server: Record<string, string>) {}

  async keys() {
    return [...this.all.keys()];
  }
  async delete(name: string) {
    return this.all.delete(name);
  }
  async match(request: { url: string }) {
    for (const name of this.all.keys()) {
      const found = await (await this.open(name)).match(request);
      if (found) return found;
    }
    return undefined;
  }
  async open(name: string) {
    if (!this.all.has(name)) this.all.set(name, new Map());
    const held = this.all.get(name) as Map<string, string>;
    const path = (one: string | { url: string }) =>
      typeof one === 'string' ? one : new URL(one.url).pathname;
    return {
      match: async (one: string | { url: string }) => {
        const text = held.get(path(one));
        return text === undefined ? undefined : new Response(text);
      },
      put: async (one: string, answer: Response) => void held.set(one, await answer.text()),
      addAll: async (asked: { url: string }[]) => {
        const files = asked.map((one) => [path(one), this.server[path(one)]] as const);
        if (files.some(([, text]) => text === undefined)) throw new TypeError('404');
        for (const [name, text] of files) held.set(name, text as string);
      },
    };
  }
}

let server: Record<string, string>;
let shells: Shells;

beforeEach(() => {
  server = {};
  shells = new Shells(server);
});

const pageOf = (version: string) => `<script src="/assets/index-${version}.js"></script>`;

/** What the server hands out from now on: a page, its script and a screen. */
function serve(version: string) {
  for (const name of Object.keys(server)) delete server[name];
  server['/'] = pageOf(version);
  server[`/assets/index-${version}.js`] = version;
  server[`/assets/screen-${version}.js`] = `screen of ${version}`;
}

interface Worker {
  install(): Promise<unknown>;
  activate(): Promise<unknown>;
  ask(path: string, mode?: string): Promise<string>;
}

/** The worker of a version, started in this browser. */
async function worker(version: string): Promise<Worker> {
  const heard = new Map<string, (event: object) => void>();
  const origin = 'http://127.0.0.1:1';
  vi.resetModules();
  vi.stubGlobal('self', {
    location: { origin },
    clients: { claim: async () => {} },
    addEventListener: (name: string, act: (event: object) => void) => heard.set(name, act),
  });
  vi.stubGlobal('caches', shells);
  vi.stubGlobal('VERSION', version);
  vi.stubGlobal('FILES', ['/', `/assets/index-${version}.js`, `/assets/screen-${version}.js`]);
  vi.stubGlobal(
    'Request',
    class {
      url: string;
      constructor(path: string) {
        this.url = origin + path;
      }
    },
  );
  vi.stubGlobal('fetch', async ({ url }: { url: string }) => {
    const text = server[new URL(url).pathname];
    return new Response(text ?? 'nothing here', { status: text === undefined ? 404 : 200 });
  });
  await import(SOURCE);
  const event = (name: string) => {
    let work: Promise<unknown> = Promise.resolve();
    heard.get(name)?.({
      waitUntil: (one: Promise<unknown>) => {
        work = one;
      },
    });
    return work;
  };
  return {
    install: () => event('install'),
    activate: () => event('activate'),
    ask: async (path, mode = 'cors') => {
      let answer: Promise<Response> | null = null;
      const request = { url: origin + path, method: 'GET', mode };
      heard.get('fetch')?.({
        request,
        respondWith: (one: Promise<Response>) => {
          answer = one;
        },
      });
      return ((await answer) as Response | null)?.text() ?? 'left to the network';
    },
  };
}

async function takenOver(version: string): Promise<Worker> {
  serve(version);
  const one = await worker(version);
  await one.install();
  await one.activate();
  return one;
}

describe('the service worker', () => {
  it('hands out its page for every address, its files, and leaves the wire alone', async () => {
    const one = await takenOver('a');
    serve('b');
    expect(await one.ask('/airframe/A0001', 'navigate')).toBe(pageOf('a'));
    expect(await one.ask('/assets/screen-a.js')).toBe('screen of a');
    expect(await one.ask('/api/health')).toBe('left to the network');
  });

  it('hands a page of the version before the screens that no server has any more', async () => {
    await takenOver('a');
    const two = await takenOver('b');
    expect(await two.ask('/assets/screen-a.js')).toBe('screen of a');
    expect(await two.ask('/', 'navigate')).toBe(pageOf('b'));
  });

  it('keeps two shells and no more, whatever was fetched and never taken', async () => {
    await takenOver('a');
    await takenOver('b');
    serve('c');
    await (await worker('c')).install();
    const four = await takenOver('d');
    expect((await shells.keys()).filter((one) => one.startsWith('shell-'))).toEqual([
      ...['shell-b', 'shell-d'],
    ]);
    expect(await four.ask('/assets/screen-b.js')).toBe('screen of b');
    expect(await four.ask('/assets/screen-a.js')).toBe('nothing here');
  });

  it('deletes nothing after a version that noted nothing', async () => {
    serve('a');
    await (await worker('a')).install();
    await takenOver('b');
    expect(await shells.keys()).toContain('shell-a');
  });

  it('is not installed with the page of a server that was changed meanwhile', async () => {
    const one = await takenOver('a');
    serve('b');
    server['/'] = pageOf('c');
    await expect((await worker('b')).install()).rejects.toThrow('changed for another');
    expect(await shells.keys()).not.toContain('shell-b');
    expect(await one.ask('/', 'navigate')).toBe(pageOf('a'));
  });
});
