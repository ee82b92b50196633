// Books in short form, as the shared vectors write them.

import { createHash } from 'node:crypto';
import type { Entry } from '@sync/entry';

export interface RowText {
  name: string;
  by: string;
  record: string;
  kind: string;
  set: Record<string, unknown>;
  seen?: Record<string, string[]>;
  relies?: string[];
  role?: string | null;
  act?: string;
  of?: number;
  writer?: string;
  device?: string;
  why?: string;
  skip?: number;
  wall?: string;
  /** So many days later than its place says. */
  days?: number;
}

export interface Book {
  entries: Entry[];
  ids: Map<string, string>;
}

const writerIn = (row: RowText) => row.writer ?? 'tableta1';
const idOf = (place: number, row: RowText) =>
  `${String(1_741_400_000_000 + (row.days ?? 0) * 86_400_000 + place).padStart(13, '0')}-0000-${writerIn(row)}`;

/** Puts ids for '@name', and a stamp's list for the ids of '$list'. */
export function filled(value: unknown, ids: ReadonlyMap<string, string>): unknown {
  if (typeof value === 'string' && value.startsWith('@'))
    return ids.get(value.slice(1)) ?? `1741400099999-0000-${value.slice(1).padEnd(8, 'x')}`;
  if (Array.isArray(value)) return value.map((one) => filled(one, ids));
  if (typeof value !== 'object' || value === null) return value;
  if ('$list' in value) {
    const some = (filled(value.$list, ids) as string[]).sort();
    const hash = createHash('sha256');
    for (const one of some) hash.update(`${one}\n`);
    return { count: some.length, sha256: hash.digest('hex') };
  }
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, filled(one, ids)]));
}

/** The entries of rows in short form, and their ids by name. */
export function bookOf(rows: readonly RowText[]): Book {
  const ids = new Map(rows.map((row, place) => [row.name, idOf(place, row)]));
  const acts = rows.map((row) => row.act ?? row.name);
  const last = new Map<string, number>();
  const entries = rows.map((row, place): Entry => {
    const n = (last.get(writerIn(row)) ?? 0) + 1 + (row.skip ?? 0);
    last.set(writerIn(row), n);
    const role = row.role === undefined ? `@role-${row.by}` : row.role;
    const act = acts[place] as string;
    return {
      id: idOf(place, row),
      n,
      prev: n === 1 ? null : '00'.repeat(32),
      act: { id: act, of: row.of ?? acts.filter((one) => one === act).length },
      record: row.record,
      kind: row.kind,
      set: filled(row.set, ids) as Record<string, unknown>,
      seen: filled(row.seen ?? {}, ids) as Record<string, string[]>,
      relies: filled([...(role ? [role] : []), ...(row.relies ?? [])], ids) as string[],
      by: row.by,
      device: row.device ?? 'A',
      wall: row.wall ?? '2025-03-08T10:15:00+00:00',
      why: row.why ?? null,
      schema: 1,
      sig: null,
      more: {},
    };
  });
  return { entries, ids };
}
