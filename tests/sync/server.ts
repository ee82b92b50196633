// The server's half of the exchange, for servers in memory: held to the vectors of both languages.

import { canonical, RefusedLine, type Sha256 } from '@sync/canonical';
import type { Link } from '@sync/chain';
import { decode, ID_PATTERN, MAX_AHEAD_MS } from '@sync/clock';
import { type Cursor, type Head, type Read, readAll } from '@sync/exchange';

/** What becomes of a line. */
export interface Result {
  readonly id: string | null;
  readonly result: 'stored' | 'duplicate' | 'refused';
  readonly code: string;
  readonly reason: string;
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

/** What the server answers a cursor. */
export function cursorVerdict(
  epoch: string,
  id_at_after: string | null,
  query: Cursor,
): 'page' | 'older_epoch' | 'new_epoch' {
  if (query.epoch !== epoch && (query.epoch !== '' || query.seq > 0)) return 'older_epoch';
  return query.seq === 0 || query.at === id_at_after ? 'page' : 'new_epoch';
}

/** Whether a stamp lies too far in the future to be believed. */
export const isAhead = (stamp: string, now_ms: number): boolean =>
  decode(stamp).last_ms > now_ms + MAX_AHEAD_MS;
