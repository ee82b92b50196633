// A network that drops, repeats, reorders and cuts, and hears what whole answers acknowledge.
import type { Fetch } from '../../frontend/src/services/server';
import type { Chance } from './chance';

/** What became of one request. */
const FATES = {
  whole: 50,
  lost: 10,
  'body cut': 6,
  'answer lost': 10,
  'answer cut': 6,
  repeated: 6,
  late: 8,
} as const;
type Fate = keyof typeof FATES;

interface Ask {
  path: string;
  method: string;
  headers: Headers;
  body: string | ArrayBuffer | null;
}

/** What one tablet was told that the server holds: entries and files, by id and by hash. */
export class Heard {
  constructor(
    readonly entries = new Set<string>(),
    readonly files = new Set<string>(),
  ) {}

  copy(): Heard {
    return new Heard(new Set(this.entries), new Set(this.files));
  }
}

/** The way from all tablets to one server. */
export class Net {
  heard = new Heard();
  isFaulty = true;
  faults = 0;
  /** Requests that come to the server after later ones. */
  private late: Ask[] = [];
  private readonly under_way = new Set<Promise<unknown>>();
  private isShut = false;

  constructor(
    private readonly address: string,
    private readonly chance: Chance,
  ) {}

  /** Ends what is under way, keeps everything else out meanwhile, and does the work. */
  async whileDown<T>(work: () => Promise<T>): Promise<T> {
    this.isShut = true;
    await Promise.allSettled([...this.under_way]);
    try {
      return await work();
    } finally {
      this.isShut = false;
    }
  }

  /** Delivers a request that was held up; nobody waits for its answer any more. */
  async deliverLate(): Promise<void> {
    const at = this.chance.below(this.late.length || 1);
    const [ask] = this.late.splice(at, 1);
    if (ask) await this.send(ask).catch(() => {});
  }

  /** What one start of an app asks through; a dead one is never answered. */
  line(isDead: () => boolean): Fetch {
    return (path, init) => {
      const asked = this.pass(path, init);
      return new Promise((done, failed) => {
        asked.then(
          (answer) => isDead() || done(answer),
          (error) => isDead() || failed(error),
        );
      });
    };
  }

  private async pass(path: string, init: RequestInit): Promise<Response> {
    const method = init.method ?? 'GET';
    // Signing in at the server asks for a slow hash and moves nothing of the book.
    if (this.isShut || path === '/api/sign-in') throw new TypeError('failed to fetch');
    const ask: Ask = {
      ...{ path, method, headers: new Headers(init.headers) },
      body: (init.body ?? null) as Ask['body'],
    };
    const fate: Fate = this.isFaulty ? this.chance.weighed(FATES) : 'whole';
    if (fate !== 'whole') this.faults += 1;
    const cut = this.chance.next();
    if (fate === 'lost') throw new TypeError('failed to fetch');
    if (fate === 'late') {
      this.late.push(ask);
      throw new TypeError('failed to fetch');
    }
    if (fate === 'repeated') await this.send(ask);
    const answer = await this.send(fate === 'body cut' ? cutBody(ask, cut) : ask);
    if (fate === 'answer lost' || this.isShut) throw new TypeError('connection reset');
    const bytes = await answer.arrayBuffer();
    const told = fate === 'answer cut' ? bytes.slice(0, Math.floor(cut * bytes.byteLength)) : bytes;
    if (fate === 'whole' || fate === 'repeated') this.hear(ask, answer.status, told);
    return new Response([204, 304].includes(answer.status) ? null : told, {
      status: answer.status,
      headers: answer.headers,
    });
  }

  private send(ask: Ask): Promise<Response> {
    const { path, method, headers, body } = ask;
    headers.set('Origin', this.address);
    const asked = fetch(`${this.address}${path}`, { method, headers, body });
    this.under_way.add(asked);
    asked.finally(() => this.under_way.delete(asked)).catch(() => {});
    return asked;
  }

  private hear({ path, method, body }: Ask, status: number, bytes: ArrayBuffer): void {
    if (status >= 400) return;
    const text = () => new TextDecoder().decode(bytes);
    if (path.startsWith('/api/entries')) {
      for (const id of entriesTold(method, text())) this.heard.entries.add(id);
    } else if (path === '/api/photographs/missing') {
      const missing = new Set((JSON.parse(text()) as { missing: string[] }).missing);
      const { sha256 } = JSON.parse(String(body)) as { sha256: string[] };
      for (const one of sha256) if (!missing.has(one)) this.heard.files.add(one);
    } else if (method === 'PUT') {
      const [, , , sha256 = '', parts] = path.split('/');
      const isWhole =
        parts === undefined || (JSON.parse(text()) as { missing: number[] }).missing.length === 0;
      if (isWhole) this.heard.files.add(sha256);
    }
  }
}

/** The ids that a whole answer says are safe at the server. */
function entriesTold(method: string, text: string): string[] {
  if (method === 'POST') {
    const { results } = JSON.parse(text) as { results: { id: string; result: string }[] };
    return results.filter(({ result }) => result !== 'refused').map(({ id }) => id);
  }
  const lines = text.split('\n').filter(Boolean).slice(1);
  return lines.map((line) => (JSON.parse(line) as { id: string }).id);
}

function cutBody(ask: Ask, share: number): Ask {
  const { body } = ask;
  if (body === null) return ask;
  if (typeof body === 'string') return { ...ask, body: body.slice(0, share * body.length) };
  return { ...ask, body: body.slice(0, Math.floor(share * body.byteLength)) };
}
