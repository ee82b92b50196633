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

/** Pages so short that every book has many ends of pages. */
const SHORTEST_PAGES = 6;
const MOST_PAST = 30;

/** The way from all tablets to one server. */
export class Net {
  heard = new Heard();
  isFaulty = true;
  faults = 0;
  /** What happens at the server between two requests of a tablet. */
  private between: { when: (method: string) => boolean; work: () => Promise<unknown> } | null =
    null;
  /** Who waits for how many answers that came to tablets. */
  private counting: { left: number; done: () => void }[] = [];
  /** Requests that come to the server after later ones. */
  private late: Ask[] = [];
  /** Requests that came to the server, to be sent once more. */
  private readonly past: Ask[] = [];
  /** The last batch that came to the server. */
  private batch: Ask | null = null;
  private readonly under_way = new Set<Promise<unknown>>();
  private isShut = false;

  /** `check` is told of entries and files the moment they were acknowledged. */
  constructor(
    private readonly address: string,
    private readonly chance: Chance,
    private readonly check: (ids: string[], files: string[]) => Promise<void>,
  ) {}

  /** Has something happen at the server before the next request of which `when` is true. */
  before(when: (method: string) => boolean, work: () => Promise<unknown>): void {
    this.between = { when, work };
  }

  /** Has nothing more happen between requests. */
  goOn(): void {
    this.between = null;
  }

  /** Resolves once so many answers came to tablets, good or bad. */
  answers(count: number): Promise<void> {
    if (count === 0) return Promise.resolve();
    return new Promise((done) => this.counting.push({ left: count, done }));
  }

  private answered(): void {
    for (const one of this.counting) {
      one.left -= 1;
      if (one.left === 0) one.done();
    }
    this.counting = this.counting.filter(({ left }) => left > 0);
  }

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

  /** Delivers a request that was held up, or an old one again; nobody waits for its answer. */
  async deliverLate(): Promise<void> {
    const isOld = this.past.length > 0 && this.chance.is(0.4);
    const at = this.chance.below(this.late.length || 1);
    const ask = isOld ? this.chance.one(this.past) : this.late.splice(at, 1)[0];
    if (ask) await this.send(ask).catch(() => {});
  }

  /** What sends the last batch once more, whatever came since. */
  lastBatch(): () => Promise<unknown> {
    const { batch } = this;
    return async () => batch && this.send(batch);
  }

  /** What one start of an app asks through; a dead one is never answered. */
  line(isDead: () => boolean): Fetch {
    return (path, init) => {
      const asked = this.arrive(path, init);
      return new Promise((done, failed) => {
        asked.then(
          (answer) => isDead() || done(answer),
          (error) => isDead() || failed(error),
        );
      });
    };
  }

  private async arrive(path: string, init: RequestInit): Promise<Response> {
    const method = init.method ?? 'GET';
    // Signing in at the server asks for a slow hash and moves nothing of the book.
    if (this.isShut || path === '/api/sign-in') throw new TypeError('failed to fetch');
    if (this.between?.when(method)) {
      const { work } = this.between;
      this.between = null;
      await work();
    }
    const passed = this.pass({
      ...{ path: this.shortened(path), method, headers: new Headers(init.headers) },
      body: (init.body ?? null) as Ask['body'],
    });
    this.under_way.add(passed);
    const over = () => {
      this.under_way.delete(passed);
      this.answered();
    };
    passed.then(over, over);
    return passed;
  }

  private shortened(path: string): string {
    if (!this.isFaulty || !path.startsWith('/api/entries?') || this.chance.is(0.3)) return path;
    return path.replace(/limit=\d+/, `limit=${1 + this.chance.below(SHORTEST_PAGES)}`);
  }

  private async pass(ask: Ask): Promise<Response> {
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
    if (fate === 'whole' || fate === 'repeated') await this.hear(ask, answer.status, told);
    return new Response([204, 304].includes(answer.status) ? null : told, {
      status: answer.status,
      headers: answer.headers,
    });
  }

  private send(ask: Ask): Promise<Response> {
    const { path, method, headers, body } = ask;
    headers.set('Origin', this.address);
    if (path.startsWith('/api/entries?') && method === 'POST') this.batch = ask;
    if (this.isFaulty && ['POST', 'PUT'].includes(method)) this.keepPast(ask);
    return fetch(`${this.address}${path}`, { method, headers, body });
  }

  private keepPast(ask: Ask): void {
    if (!/^\/api\/(entries|photographs\/[0-9a-f]{64})/.test(ask.path)) return;
    if (this.past.length < MOST_PAST) this.past.push(ask);
    else this.past[this.chance.below(MOST_PAST)] = ask;
  }

  /** Notes what an answer acknowledges, and has it looked for at once. */
  private async hear(ask: Ask, status: number, bytes: ArrayBuffer): Promise<void> {
    if (status >= 400) return;
    const told = acknowledged(ask, new TextDecoder().decode(bytes));
    for (const id of told.entries) this.heard.entries.add(id);
    for (const sha256 of told.files) this.heard.files.add(sha256);
    const isPage = ask.method === 'GET';
    if (!isPage && told.entries.length + told.files.length > 0)
      await this.check(told.entries, told.files);
  }
}

/** What a whole answer says is safe at the server. */
function acknowledged({ path, method, body }: Ask, text: string) {
  const told = { entries: [] as string[], files: [] as string[] };
  if (path.startsWith('/api/entries')) told.entries = entriesTold(method, text);
  else if (path === '/api/photographs/missing') {
    const missing = new Set((JSON.parse(text) as { missing: string[] }).missing);
    const { sha256 } = JSON.parse(String(body)) as { sha256: string[] };
    told.files = sha256.filter((one) => !missing.has(one));
  } else if (method === 'PUT' && path.startsWith('/api/photographs/')) {
    const [, , , sha256 = '', parts] = path.split('/');
    const isWhole =
      parts === undefined || (JSON.parse(text) as { missing: number[] }).missing.length === 0;
    if (isWhole) told.files = [sha256];
  }
  return told;
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
