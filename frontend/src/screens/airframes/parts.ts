import { type Description, namesOf, type Row, rowAt, said } from '../../services/airframe_rows';
import type { RowTrouble } from './table';

/** The parts of a description; each has an address. `about` is the airframe itself. */
export const PARTS: readonly string[] = [
  ...['about', 'structures', 'members', 'strakes', 'zones', 'access', 'drawings', 'issue'],
];

export const PART_WORDS: Record<string, string> = {
  ...{ about: 'Airframe', structures: 'Structures', members: 'Members', strakes: 'Strakes' },
  ...{ zones: 'Zones', access: 'Access', drawings: 'Drawings', issue: 'Issue' },
};

/** The address of a part, and of the structure shown there. */
export function partAddress(airframe: string, part: string, structure = ''): string {
  const path = `/airframes/${encodeURIComponent(airframe)}${part === 'about' ? '' : `/${part}`}`;
  return structure ? `${path}?${new URLSearchParams({ structure })}` : path;
}

/** The part after or before one. */
export function nextPart(part: string, by: 1 | -1): string {
  const at = PARTS.indexOf(part) + by;
  return PARTS[Math.min(Math.max(at, 0), PARTS.length - 1)] ?? 'about';
}

/** A trouble where a person typed what it is about. */
export interface PlacedTrouble {
  part: string;
  /** Place of the structure in the description. */
  structure: number | null;
  row: number | null;
  column: string | null;
  words: string;
  hint: string;
  code: string;
  said: boolean;
}

export interface TroubleLike {
  at: string;
  message: string;
  hint?: string;
  code?: string;
  weight?: 'refused' | 'said';
}

/** "structures/0/members/3/station" → members of the first structure, its line 4. */
export function placed(description: Description, trouble: TroubleLike): PlacedTrouble {
  const [first = '', ...rest] = trouble.at.split('/').filter(Boolean);
  const shared = {
    ...{
      words: trouble.message,
      hint: trouble.hint ?? '',
      code: trouble.code ?? '',
      said: trouble.weight === 'said',
    },
  };
  const at = Number(rest[0]);
  const none = { structure: null, row: null, column: null };
  if (first === 'structures' && rest.length > 0)
    return { ...shared, ...placedInStructure(description, at, rest.slice(1)) };
  if (first === 'zones' && rest[1] === 'access')
    return { ...shared, ...none, part: 'access', ...itemOf(description, at, rest.slice(2)) };
  const tables: Record<string, [string, readonly Row[]]> = {
    zones: ['zones', description.zones],
    access: ['access', description.access],
    off_aircraft: ['about', description.off_aircraft],
  };
  const table = tables[first];
  if (table && Number.isInteger(at)) {
    const row = rowAt(table[1], at);
    return { ...shared, ...none, part: table[0], row, column: columnOf(rest[1]) };
  }
  const own = first === 'structures' || first === 'zones' ? first : 'about';
  const part = first === 'views' ? 'drawings' : own;
  return { ...shared, ...none, part, column: first || null };
}

/** The line of an access item: the definition has it under its zone, the table among all others. */
function itemOf({ zones, access }: Description, zone: number, [at, column]: string[]) {
  const number = said(zones)[zone]?.zone?.trim() ?? '';
  const own = access.flatMap((row, place) =>
    row.zone?.trim() === number && said([row]).length > 0 ? [place] : [],
  );
  return { row: own[Number(at)] ?? null, column: columnOf(column) };
}

function placedInStructure(description: Description, structure: number, rest: string[]) {
  const typed = description.structures[structure];
  const [list, at, column] = rest;
  const row = at === undefined ? null : Number(at);
  if (list === 'members') {
    const line = row === null ? null : rowAt(typed?.members ?? [], row);
    return { part: 'members', structure, row: line, column: columnOf(column) };
  }
  if (list === 'plating' || list === 'parts' || list === 'strakes')
    return { part: 'strakes', structure, row: null, column: list };
  return { part: 'structures', structure, row: structure, column: list ?? null };
}

/** What the definition calls one thing and the table two. */
function columnOf(name: string | undefined): string | null {
  if (name === undefined) return null;
  return { along: 'from', strakes: 'low' }[name] ?? name;
}

/** Troubles of one table, by line. */
export function rowTroubles(
  troubles: readonly PlacedTrouble[],
  part: string,
  structure: number | null = null,
): RowTrouble[] {
  return troubles
    .filter((one) => one.part === part && (structure === null || one.structure === structure))
    .flatMap(({ row, column, words, said }) =>
      row === null ? [] : [{ row, column, message: words, said }],
    );
}

/** What a part holds, in the few words of its cell. */
export function partWords(
  description: Description,
  structure: number,
  found: {
    troubles: readonly PlacedTrouble[];
    gaps: number;
    overlaps: number;
    waiting: boolean;
    /** The issue that stands, where nothing is changed. */
    in_book: string | null;
  },
): Record<string, string> {
  const shown = description.structures[structure];
  const members = said(shown?.members ?? []);
  const half = members.filter((row) => /^h/i.test(row.kind?.trim() ?? '')).length;
  const strakes = namesOf(shown?.strakes ?? '');
  const zones = said(description.zones);
  const wrong = found.troubles.filter((one) => !one.said).length;
  return {
    about: description.constructor_number || 'no number',
    structures: String(description.structures.length),
    members: `${members.length}${half ? `, ${half} half` : ''}`,
    strakes: strakes.length > 0 ? `${strakes[0]}–${strakes.at(-1)}` : 'none',
    zones: [String(zones.length), counted(found.gaps, 'gap'), counted(found.overlaps, 'overlap')]
      .filter(Boolean)
      .join(', '),
    access: String(said(description.access).length),
    drawings: counted(description.views.filter(isPicture).length, 'picture') || 'drawn',
    issue: issueWords(description.issue, wrong, found),
  };
}

function issueWords(
  issue: string,
  wrong: number,
  { waiting, in_book }: { waiting: boolean; in_book: string | null },
): string {
  if (waiting) return 'checked …';
  if (wrong > 0) return `${wrong} to mend`;
  return in_book ? `${in_book}, in book` : `${issue || '–'}, ready`;
}

function isPicture(view: unknown): boolean {
  return typeof view === 'object' && view !== null && 'picture' in view;
}

export function counted(count: number, word: string): string {
  return count === 0 ? '' : `${count} ${word}${count === 1 ? '' : 's'}`;
}
