// Exchange, the client's half: what to send, what to fetch and what an answer means; nothing here
// sends. PROTOCOL.md has the messages; the server's half is python/skinpin_sync/exchange.py.

import { canonical, parse, RefusedLine, type Sha256 } from './canonical.ts';
import { type Entry, fromLine } from './entry.ts';
import { grouped } from './grouped.ts';

const MAX_BATCH = 500;
const MAX_BATCH_BYTES = 2 ** 20;
const MAX_EPOCHS = 3;

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

/** The outbox of a client that never met its server, or begins an epoch of it. */
export const newOutbox = (book: string, epoch = ''): Outbox => ({
  book,
  cursor: { epoch, seq: 0, at: '' },
  unsent: [],
  sent: [],
  refused: {},
  ask_files: false,
});

/** The ids in batches to send; an act is never split, so a batch may be longer. */
export function batches(
  held: readonly Held[],
  max_entries = MAX_BATCH,
  max_bytes = MAX_BATCH_BYTES,
): string[][] {
  const found: string[][] = [];
  let room_bytes = 0;
  for (const act of grouped(held.map((one) => [one.act, one] as const)).values()) {
    const act_bytes = act.reduce((sum, one) => sum + one.size_bytes + 1, 0);
    const last = found.at(-1);
    const ids = act.map((one) => one.id);
    if (last && last.length + ids.length <= max_entries && act_bytes <= room_bytes)
      last.push(...ids);
    else {
      found.push(ids);
      room_bytes = max_bytes;
    }
    room_bytes -= act_bytes;
  }
  return found;
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

const cutShort = (message: string): RefusedLine =>
  new RefusedLine('cut_short', message, 'Nothing of it was taken. Do it again.');

/** The head and the lines of a page; one that was cut short is refused whole. */
export function fromPage(body: string): [Head, string[]] {
  const [first, ...lines] = body.split('\n');
  const head = lines.length > 0 ? (parse(first ?? '') as Head | null) : null;
  if (head?.count !== lines.length - 1 || lines.at(-1) !== '')
    throw cutShort('The page has more or fewer lines than it says.');
  return [head, lines.slice(0, -1)];
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
  ...newOutbox(book, epoch),
  unsent: [...held],
  ask_files: true,
});

/** The outbox after the answer to a batch; its results stand in the order sent. */
export function mergeAnswer(outbox: Outbox, sent_ids: readonly string[], answer: Answer): Outbox {
  if (answer.results.length !== sent_ids.length)
    throw cutShort(`${sent_ids.length} lines were sent and ${answer.results.length} answered.`);
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
export const mark = ({ cursor, unsent, sent, ask_files }: Outbox) =>
  ({ cursor, unsent: unsent.length, sent: sent.length, ask_files }) as const;
export type Mark = ReturnType<typeof mark>;

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
