// Exchange, whole: a server and tablets in memory, with a bad network between them.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { RefusedLine, sha256Hex } from '../../sync/typescript/canonical.ts';
import { type Chain, link, writeAct } from '../../sync/typescript/chain.ts';
import { newClock, receive, runsAhead } from '../../sync/typescript/clock.ts';
import { type Entry, fromLine, toLine } from '../../sync/typescript/entry.ts';
import {
  type Answer,
  batches,
  type Cursor,
  fromPage,
  type Head,
  headVerdict,
  type Mark,
  mark,
  mergeAnswer,
  newEpoch,
  newOutbox,
  nextStep,
  readAll,
  stopReason,
  takePage,
} from '../../sync/typescript/exchange.ts';
import { add, type Standing, seenFor, standing } from '../../sync/typescript/standing.ts';
import { chainFaults } from './chains';
import { queue } from './outbox';
import { cursorVerdict, judge, pageLength, readLines, toPage } from './server';

const RUNS = { numRuns: 300 };
const NOW_MS = 1_762_157_730_250;
const HOUR_MS = 3_600_000;
const FIFTY_YEARS_MS = 50 * 31_557_600_000;
const PAGE_LIMIT = 2;
const BATCH_LIMIT = 2;
const sha256 = (text: string) => sha256Hex(text, crypto.subtle);
const always = () => true;
const AUTHOR = { by: 'p1', device: 'A', wall: '2025-11-03T08:15:30+00:00', schema: 1, sha256 };

class LostError extends Error {}

const hashes = new Map<string, string>();
async function remembered(text: string): Promise<string> {
  const hex = hashes.get(text) ?? (await sha256(text));
  hashes.set(text, hex);
  return hex;
}
const readOne = (line: string) => fromLine(line);
const shaOf = async (lines: ReadonlyMap<string, string>) =>
  Object.fromEntries(
    await Promise.all([...lines].map(async ([id, line]) => [id, await remembered(line)] as const)),
  );

class Server {
  epoch = 1;
  lines = new Map<string, string>();

  head() {
    return { book: 'b', epoch: `${this.epoch}`, seq: this.lines.size, server_time: NOW_MS };
  }

  async post(body: string): Promise<string> {
    const reads = await readLines(body, remembered);
    const results = judge(reads, await shaOf(this.lines));
    results.forEach(({ id, result }, at) => {
      if (result === 'stored') this.lines.set(id as string, reads[at]?.line as string);
    });
    const seqs = new Map([...this.lines.keys()].map((id, at) => [id, at + 1]));
    const answers = results.map((one) => ({ ...one, seq: seqs.get(one.id as string) }));
    return JSON.stringify({ ...this.head(), results: answers });
  }

  get(query: Cursor): string {
    const ids = [...this.lines.keys()];
    const verdict = cursorVerdict(`${this.epoch}`, ids[query.seq - 1] ?? null, query);
    if (verdict === 'new_epoch') this.epoch += 1;
    if (verdict !== 'page') return toPage({ ...this.head(), to: 0, at: '' }, []);
    const rest = [...this.lines.values()].slice(query.seq);
    const acts = rest.map((line) => readOne(line).act.id);
    const page = rest.slice(0, pageLength(acts, PAGE_LIMIT));
    const to = query.seq + page.length;
    return toPage({ ...this.head(), to, at: ids[to - 1] ?? '' }, page);
  }
}

type Fault = 'fine' | 'request lost' | 'answer lost' | 'answer cut' | 'twice';

/** Bring a question to the server and its answer back, through what the network does. */
async function carry(faults: Fault[], ask: () => string | Promise<string>): Promise<string> {
  const fault = faults.pop() ?? 'fine';
  if (fault === 'request lost') throw new LostError();
  let answer = await ask();
  if (fault === 'twice') answer = await ask();
  if (fault === 'answer lost') throw new LostError();
  return fault === 'answer cut' ? answer.slice(0, answer.length / 2) : answer;
}

class Tablet {
  lines = new Map<string, string>();
  kept = new Map<string, Standing>();
  outbox = newOutbox('b');
  chain: Chain = { clock: newClock('notbegun'), n: 0, prev: null };

  constructor(
    readonly device: string,
    readonly off_ms: number,
    readonly drawWriter: () => string,
  ) {
    this.restart();
  }

  restart(): void {
    this.chain = { clock: newClock(this.drawWriter()), n: 0, prev: this.chain.prev };
  }

  clone(): Tablet {
    const other = new Tablet(this.device, this.off_ms, this.drawWriter);
    other.lines = new Map(this.lines);
    other.kept = new Map(this.kept);
    other.outbox = this.outbox;
    other.chain = { ...other.chain, prev: this.chain.prev };
    return other;
  }

  async write(records: readonly string[], at: number): Promise<void> {
    const drafts = records.map((record) => {
      const seen = seenFor(this.kept.get(record) ?? null, ['f']);
      return { record, kind: 'thing', set: { f: at }, seen };
    });
    const now_ms = NOW_MS + this.off_ms + (at % 3);
    const name = `act${this.chain.clock.writer}${at}`;
    const author = { ...AUTHOR, act: name, device: this.device, sha256: remembered };
    const [chain, written] = await writeAct(this.chain, now_ms, drafts, author);
    this.chain = chain;
    await this.store(written.map(([, line]) => line));
    this.outbox = queue(
      this.outbox,
      written.map(([entry]) => entry.id),
    );
  }

  log = (record: string) =>
    [...this.lines.values()].map(readOne).filter((e) => e.record === record);

  async store(lines: readonly string[]): Promise<string[]> {
    const reads = await readAll(lines, remembered);
    const results = judge(reads, await shaOf(this.lines));
    const stored = reads.filter((_, at) => results[at]?.result === 'stored');
    const fresh = stored.map((one) => one.entry as Entry);
    for (const one of stored) this.lines.set((one.entry as Entry).id, one.line);
    const unsure = new Set<string>();
    for (const [record, { awaited }] of this.kept)
      if (fresh.some((one) => awaited.includes(one.id))) unsure.add(record);
    for (const record of new Set([...unsure, ...fresh.map((one) => one.record)])) {
      const mine = fresh.filter((one) => one.record === record);
      const fast = unsure.has(record) ? null : add(this.kept.get(record) ?? null, mine, always);
      this.kept.set(record, fast ?? standing(this.log(record), always));
    }
    return results.filter((one) => one.result !== 'refused').map((one) => one.id as string);
  }

  async run(server: Server, faults: Fault[]): Promise<string | null> {
    const marks: Mark[] = [];
    let seq: number | null = null;
    let step = nextStep(this.outbox, seq);
    while (step !== 'rest' && stopReason(marks) === null) {
      seq = await this[step](server, faults);
      marks.push(mark(this.outbox));
      step = nextStep(this.outbox, seq);
    }
    return step === 'rest' ? null : stopReason(marks);
  }

  meet(head: Pick<Head, 'book' | 'epoch'>): boolean {
    const isNew = headVerdict(this.outbox, head) === 'new_epoch';
    if (isNew) this.outbox = newEpoch(this.outbox, head.epoch, this.lines.keys());
    return isNew;
  }

  async send(server: Server, faults: Fault[]): Promise<number> {
    const lineOf = (id: string) => this.lines.get(id) as string;
    const held = this.outbox.unsent.map((id) => ({
      ...{ id, act: readOne(lineOf(id)).act.id, size_bytes: lineOf(id).length },
    }));
    const ids = batches(held, BATCH_LIMIT)[0] as string[];
    const body = ids.map((id) => `${lineOf(id)}\n`).join('');
    const answer = JSON.parse(await carry(faults, () => server.post(body))) as Answer;
    this.meet(answer);
    this.outbox = mergeAnswer(this.outbox, ids, answer);
    return answer.seq;
  }

  async fetch(server: Server, faults: Fault[]): Promise<number> {
    const [head, lines] = fromPage(await carry(faults, () => server.get(this.outbox.cursor)));
    const next = [...server.lines.values()][head.to];
    const last = lines.at(-1);
    if (next && last) expect(readOne(next).act.id).not.toBe(readOne(last).act.id);
    if (this.meet(head)) return head.seq;
    this.outbox = takePage(this.outbox, head, await this.store(lines));
    const ids = lines.map((line) => readOne(line).id);
    const clock = ids.reduce((now, id) => receive(now, id, NOW_MS), this.chain.clock);
    this.chain = { ...this.chain, clock };
    return head.seq;
  }

  async files(server: Server, _: Fault[]): Promise<number> {
    this.outbox = { ...this.outbox, ask_files: false };
    return server.lines.size;
  }
}

const RECORDS = [['r1'], ['r2'], ['r1', 'r2'], ['r2', 'r1', 'r3']];
const VERBS = ['write', 'write', 'write', 'run', 'run', 'half', 'restart', 'clone', 'restore'];
type Move = readonly [verb: string, who: number, amount: number];

async function tryRun(tablet: Tablet, server: Server, faults: Fault[]): Promise<void> {
  try {
    await tablet.run(server, faults);
  } catch (cause) {
    const isNetwork = [LostError, RefusedLine, SyntaxError].some((kind) => cause instanceof kind);
    if (!isNetwork) throw cause;
  }
}

async function play(
  server: Server,
  tablets: Tablet[],
  moves: readonly Move[],
  faults: Fault[],
  isDeclared: boolean,
): Promise<void> {
  for (const [at, [verb, who, amount]] of moves.entries()) {
    const tablet = tablets[who % tablets.length] as Tablet;
    const [first] = tablet.outbox.unsent;
    if (verb === 'write') await tablet.write(RECORDS[amount % 4] as string[], at);
    else if (verb === 'run') await tryRun(tablet, server, faults);
    else if (verb === 'half' && first) await server.post(`${tablet.lines.get(first)}\n`);
    else if (verb === 'restart') tablet.restart();
    else if (verb === 'clone') tablets.push(tablet.clone());
    else if (verb === 'restore') {
      const left = Math.max(0, server.lines.size - amount);
      server.lines = new Map([...server.lines].slice(0, left));
      server.epoch += isDeclared ? 1 : 0;
    }
  }
}

async function expectAllAgree(tablets: readonly Tablet[], server: Server, written: Set<string>) {
  expect(new Set(server.lines.keys())).toEqual(written);
  for (const tablet of tablets) {
    expect(Object.fromEntries(tablet.lines)).toEqual(Object.fromEntries(server.lines));
    expect([tablet.outbox.unsent, tablet.outbox.sent, tablet.outbox.refused]).toEqual([[], [], {}]);
    if (tablet.off_ms <= 0) expect(runsAhead(tablet.chain.clock, NOW_MS)).toBe(false);
    for (const [record, now] of tablet.kept) {
      expect(now).toEqual(standing(tablet.log(record), always));
      expect([now.awaited, now.faults]).toEqual([[], []]);
    }
  }
  const entries = [...server.lines.values()].map(readOne);
  for (const { act } of entries)
    expect(entries.filter((one) => one.act.id === act.id)).toHaveLength(act.of);
  const links = await Promise.all(entries.map(async (e) => link(e, await remembered(toLine(e)))));
  expect(chainFaults(links).faults).toEqual([]);
}

it.each([
  ['restored', true],
  ['copied back', false],
])(
  'brings all copies to one book and loses nothing when the server is %s',
  async (_, isDeclared) => {
    const moves = fc.array(fc.tuple(fc.constantFrom(...VERBS), fc.nat(2), fc.nat(5)), {
      maxLength: 14,
    });
    const fault = fc.constantFrom<Fault>(
      'fine',
      'request lost',
      'answer lost',
      'answer cut',
      'twice',
    );
    const off_ms = fc.shuffledSubarray([0, -HOUR_MS, FIFTY_YEARS_MS], { minLength: 3 });
    await fc.assert(
      fc.asyncProperty(
        moves,
        fc.array(fault, { maxLength: 12 }),
        off_ms,
        async (steps, net, off) => {
          let writers = 0;
          const drawWriter = () => String(++writers).padStart(8, '0');
          const server = new Server();
          const tablets = off.map((ms, at) => new Tablet('ABC'[at] as string, ms, drawWriter));
          await play(server, tablets, steps, [...net], isDeclared);
          const written = new Set(tablets.flatMap((tablet) => [...tablet.lines.keys()]));
          for (let round = 0; round < 4; round += 1)
            for (const tablet of tablets) expect(await tablet.run(server, [])).toBeNull();
          await expectAllAgree(tablets, server, written);
        },
      ),
      RUNS,
    );
  },
  60_000,
);
