// Exchange: what to send, what to fetch and what an answer means; nothing here sends.
// PROTOCOL.md has the messages. An outbox is all a client remembers of the server.

import { canonical, parse, RefusedLine, type Sha256 } from './canonical.ts';
import type { Link } from './chain.ts';
import { ID_PATTERN } from './clock.ts';
import { type Entry, fromLine } from './entry.ts';

export const MAX_BATCH = 500;
export const MAX_BATCH_BYTES = 2 ** 20;
export const MAX_EPOCHS = 3;

/** How far a client has fetched: the epoch, a seq and the id of the entry there. */
export interface Cursor {
  readonly epoch: string;
  readonly seq: number;
  readonly at: string;
}

/**
 * What a client remembers of the server. `sent` holds what the server stored beyond the cursor:
 * an id that no page brings back went missing there and is sent again.
 */
export interface Outbox {
  readonly book: string;
  readonly cursor: Cursor;
  readonly unsent: readonly string[];
  readonly sent: readonly string[];
  readonly refused: Readonly<Record<string, { readonly code: string; readonly reason: string }>>;
  readonly ask_files: boolean;
}

/** An entry a client holds, as far as a batch must know it. */
export interface Held {
  readonly id: string;
  readonly act: string;
  readonly size_bytes: number;
}

/** A line as it came: its entry, or why it is refused. */
export interface Read {
  readonly line: string;
  readonly sha256: string;
  readonly entry: Entry | null;
  readonly refusal: RefusedLine | null;
}

/** What becomes of a line. */
export interface Result {
  readonly id: string | null;
  readonly result: 'stored' | 'duplicate' | 'refused';
  readonly code: string;
  readonly reason: string;
}

/** What a round must change, or the run ends. */
export interface Mark {
  readonly cursor: Cursor;
  readonly unsent: number;
  readonly sent: number;
  readonly ask_files: boolean;
}

/** The head of a page, and as far as book, epoch, seq and server_time go of every answer. */
export interface Head {
  readonly book: string;
  readonly epoch: string;
  readonly seq: number;
  readonly server_time: number;
  readonly to: number;
  readonly at: string;
  readonly count: number;
  readonly ahead?: Readonly<Record<string, number>>;
}

/** The answer to a batch. */
export interface Answer extends Pick<Head, 'book' | 'epoch' | 'seq' | 'server_time'> {
  readonly results: readonly {
    readonly id: string | null;
    readonly result: string;
    readonly seq?: number;
    readonly ahead?: boolean;
    readonly code?: string;
    readonly reason?: string;
  }[];
}

/** The outbox of a client that never met its server. */
export const newOutbox = (book: string): Outbox => ({
  book,
  cursor: { epoch: '', seq: 0, at: '' },
  unsent: [],
  sent: [],
  refused: {},
  ask_files: false,
});

/** The places of each act's entries, acts in the order of their first entry. */
export function byAct(acts: readonly string[]): number[][] {
  const places = new Map<string, number[]>();
  acts.forEach((act, place) => {
    const before = places.get(act);
    if (before) before.push(place);
    else places.set(act, [place]);
  });
  return [...places.values()];
}

/** The ids in batches to send; an act is never split, so a batch may be longer. */
export function batches(
  held: readonly Held[],
  max_entries = MAX_BATCH,
  max_bytes = MAX_BATCH_BYTES,
): string[][] {
  const found: string[][] = [];
  let batch: string[] = [];
  let size_bytes = 0;
  for (const places of byAct(held.map((one) => one.act))) {
    const act = places.map((place) => held[place] as Held);
    const act_bytes = act.reduce((sum, one) => sum + one.size_bytes + 1, 0);
    const isFull = batch.length + act.length > max_entries || size_bytes + act_bytes > max_bytes;
    if (found.length === 0 || isFull) {
      batch = [];
      size_bytes = 0;
      found.push(batch);
    }
    batch.push(...act.map((one) => one.id));
    size_bytes += act_bytes;
  }
  return found;
}

/** How many of the rows, given by their acts, make a page that splits no act. */
export function pageLength(acts: readonly string[], limit: number): number {
  let count = Math.min(limit, acts.length);
  while (count > 0 && count < acts.length && acts[count] === acts[count - 1]) count += 1;
  return count;
}

/** The lines of a body; a body that does not end with a line end is cut short. */
export async function readLines(body: string, sha256: Sha256): Promise<Read[]> {
  if (body !== '' && !body.endsWith('\n'))
    throw new RefusedLine(
      'cut_short',
      'The last line has no line end; it was cut short.',
      'Send it again.',
    );
  return readAll(body.split('\n').slice(0, -1), sha256);
}

/** The lines of a page, each read. */
export const readAll = (lines: readonly string[], sha256: Sha256): Promise<Read[]> =>
  Promise.all(lines.map(async (line) => ({ line, sha256: await sha256(line), ...read(line) })));

function read(line: string): Pick<Read, 'entry' | 'refusal'> {
  try {
    return { entry: fromLine(line), refusal: null };
  } catch (refusal) {
    if (refusal instanceof RefusedLine) return { entry: null, refusal };
    throw refusal;
  }
}

/** What becomes of each line; `held` is the SHA-256 of the ids already stored. */
export function judge(reads: readonly Read[], held: Readonly<Record<string, string>>): Result[] {
  const known = new Map(Object.entries(held));
  return reads.map((one) => judgeOne(one, known));
}

function judgeOne(one: Read, known: Map<string, string>): Result {
  if (one.entry === null) {
    const code = one.refusal?.code ?? 'not_canonical';
    const reason = one.refusal?.message ?? 'The line could not be read.';
    return { id: refusedLink(one)?.id ?? null, result: 'refused', code, reason };
  }
  const { id } = one.entry;
  const before = known.get(id);
  if (before === undefined) known.set(id, one.sha256);
  if (before === undefined || before === one.sha256)
    return { id, result: before === undefined ? 'stored' : 'duplicate', code: '', reason: '' };
  const reason = `Entry ${id} is here with other bytes; the first was kept, this one was not.`;
  return { id, result: 'refused', code: 'other_bytes', reason };
}

/** What a chain check can use of a refused line, if its id and number can be read. */
export function refusedLink({ line, sha256 }: Read): Link | null {
  try {
    const { id, n } = JSON.parse(line);
    const isLink = typeof id === 'string' && ID_PATTERN.test(id) && Number.isSafeInteger(n);
    return isLink && n >= 1 ? { id, n, prev: null, sha256, device: null } : null;
  } catch {
    return null;
  }
}

/** The body of a page or stick file: the head with the count of lines, and the lines. */
export const toPage = (head: Omit<Head, 'count'>, lines: readonly string[]): string =>
  [canonical({ ...head, count: lines.length }), ...lines, ''].join('\n');

/** The head and the lines of a page; one that was cut short is refused whole. */
export function fromPage(body: string): [Head, string[]] {
  const [first, ...lines] = body.split('\n');
  const head = lines.length > 0 ? (parse(first ?? '') as Head | null) : null;
  if (head?.count !== lines.length - 1 || lines.at(-1) !== '')
    throw new RefusedLine(
      'cut_short',
      'The page has more or fewer lines than it says.',
      'Fetch it again.',
    );
  return [head, lines.slice(0, -1)];
}

/** What the server answers a cursor. */
export function cursorVerdict(
  epoch: string,
  id_at_after: string | null,
  query: Cursor,
): 'page' | 'older_epoch' | 'new_epoch' {
  if (query.epoch !== epoch && (query.epoch !== '' || query.seq > 0)) return 'older_epoch';
  return query.seq === 0 || query.at === id_at_after ? 'page' : 'new_epoch';
}

/** What an answer asks of a client. */
export function headVerdict(
  outbox: Outbox,
  head: Pick<Head, 'book' | 'epoch'>,
): 'go_on' | 'another_book' | 'new_epoch' {
  if (head.book !== outbox.book) return 'another_book';
  return ['', head.epoch].includes(outbox.cursor.epoch) ? 'go_on' : 'new_epoch';
}

/** The outbox that offers everything held again, entries and files, from the start. */
export const newEpoch = ({ book }: Outbox, epoch: string, held: Iterable<string>): Outbox => ({
  ...newOutbox(book),
  cursor: { epoch, seq: 0, at: '' },
  unsent: [...held],
  ask_files: true,
});

/** The outbox with new entries to send. */
export const queue = (outbox: Outbox, ids: Iterable<string>): Outbox => ({
  ...outbox,
  unsent: [...new Set([...outbox.unsent, ...ids])],
});

/** The outbox after the answer to a batch; its results stand in the order sent. */
export function mergeAnswer(outbox: Outbox, sent_ids: readonly string[], answer: Answer): Outbox {
  if (answer.results.length !== sent_ids.length)
    throw new RefusedLine(
      'cut_short',
      `${sent_ids.length} lines were sent and ${answer.results.length} answered.`,
      'Send them again.',
    );
  const safe = new Map<string, number>();
  const refused = { ...outbox.refused };
  answer.results.forEach(({ result, seq, code, reason }, place) => {
    const id = sent_ids[place] as string;
    if (result === 'refused') refused[id] = { code: code ?? '', reason: reason ?? '' };
    else if (result === 'stored' || result === 'duplicate') safe.set(id, seq as number);
  });
  const beyond = [...safe].filter(([, seq]) => seq > outbox.cursor.seq).map(([id]) => id);
  return {
    ...outbox,
    cursor: { ...outbox.cursor, epoch: outbox.cursor.epoch || answer.epoch },
    unsent: outbox.unsent.filter((id) => !safe.has(id) && !Object.hasOwn(refused, id)),
    sent: [...new Set([...outbox.sent, ...beyond])],
    refused,
  };
}

/** The outbox after a page; `ids` are those of its lines that are held here as sent. */
export function takePage(outbox: Outbox, head: Head, ids: Iterable<string>): Outbox {
  const here = new Set(ids);
  const sent = outbox.sent.filter((id) => !here.has(id));
  const unsent = outbox.unsent.filter((id) => !here.has(id));
  const cursor = { epoch: head.epoch, seq: head.to, at: head.at };
  if (head.to < head.seq) return { ...outbox, cursor, sent, unsent };
  return { ...outbox, cursor, sent: [], unsent: [...new Set([...unsent, ...sent])] };
}

/** What to do next; the server's seq is null at the start of a run. */
export function nextStep(
  outbox: Outbox,
  server_seq: number | null,
): 'send' | 'fetch' | 'files' | 'rest' {
  if (outbox.unsent.length > 0) return 'send';
  if (server_seq !== outbox.cursor.seq || outbox.sent.length > 0) return 'fetch';
  return outbox.ask_files ? 'files' : 'rest';
}

/** What must change from round to round. */
export const mark = ({ cursor, unsent, sent, ask_files }: Outbox): Mark => ({
  cursor,
  unsent: unsent.length,
  sent: sent.length,
  ask_files,
});

/** Why a run with work left must end, from the marks after each of its rounds; else null. */
export function stopReason(marks: readonly Mark[]): string | null {
  const [before, last] = marks.slice(-2);
  if (last && canonical(before) === canonical(last))
    return `Two rounds changed nothing; ${last.unsent} entries are unsent. Try again later.`;
  const epochs = new Set(marks.map((one) => one.cursor.epoch).filter((epoch) => epoch !== ''));
  return epochs.size > MAX_EPOCHS
    ? `The server began ${epochs.size} epochs in one run. Check the server's disk and backup.`
    : null;
}

/** How many entries the server has not said it holds. */
export const unacknowledged = (outbox: Outbox): number => outbox.unsent.length;

/** The acts that are not all here, with how many entries are missing. */
export function waitingActs(entries: Iterable<Entry>): Map<string, number> {
  const whole = new Map<string, number>();
  const here = new Map<string, Set<string>>();
  for (const { act, id } of entries) {
    whole.set(act.id, Math.max(act.of, whole.get(act.id) ?? 0));
    here.set(act.id, (here.get(act.id) ?? new Set()).add(id));
  }
  const missing = [...whole].map(([act, of]) => [act, of - (here.get(act)?.size ?? 0)] as const);
  return new Map(missing.filter(([, count]) => count > 0));
}

/** Whether these entries of one act are all of it. */
export function actComplete(entries: Iterable<Entry>): boolean {
  const here = [...entries];
  return here.length > 0 && waitingActs(here).size === 0;
}
