// An entry: one person's act on one record, its line and its shape.

import { canonical, parse, RefusedLine, sizeBytes } from './canonical.ts';
import { ID_PATTERN } from './clock.ts';

const MAX_LINE_BYTES = 65_536;
const MAX_ACT = 100;
const NAME = /^[!-~]{1,64}$/;
const SHA256 = /^[0-9a-f]{64}$/;
const SIGNATURE = /^[A-Za-z0-9_-]{86}$/;
const WALL =
  /^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?[+-][0-9]{2}:[0-9]{2}$/;
/** What a line may leave out, and what then stands in its place. */
const BLANK = { prev: null, seen: {}, relies: [], why: null, sig: null };

export type Fields = Readonly<Record<string, unknown>>;
export type Seen = Readonly<Record<string, readonly string[]>>;

/** One line of the book; what the line leaves out is null, {} or []. */
export interface Entry {
  readonly id: string;
  readonly n: number;
  readonly prev: string | null;
  /** The act it belongs to, and how many entries that has. */
  readonly act: { readonly id: string; readonly of: number };
  readonly record: string;
  readonly kind: string;
  readonly set: Fields;
  readonly seen: Seen;
  readonly relies: readonly string[];
  readonly by: string;
  readonly device: string;
  readonly wall: string;
  readonly why: string | null;
  readonly schema: number;
  readonly sig: { readonly key: string; readonly value: string } | null;
  readonly more: Fields;
}

export type Sig = NonNullable<Entry['sig']>;

/** What an author gives: the needed fields, and of the others those there are. */
export type EntryFields = Omit<Entry, keyof typeof BLANK | 'more'> & Partial<Entry>;

const is = (pattern: RegExp, value: unknown): value is string =>
  typeof value === 'string' && pattern.test(value);
const isName = (value: unknown) => is(NAME, value);
const isWhole = (value: unknown, most = Number.MAX_SAFE_INTEGER) =>
  Number.isSafeInteger(value) && (value as number) >= 1 && (value as number) <= most;
const isIds = (value: unknown) =>
  Array.isArray(value) && value.length > 0 && value.every((one) => is(ID_PATTERN, one));
const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const hasOnly = (value: unknown, a: string, b: string): value is Record<string, unknown> =>
  isObject(value) && Object.keys(value).sort().join() === [a, b].sort().join();
const isFields = (value: unknown): value is Record<string, unknown> =>
  isObject(value) && Object.keys(value).every(isName);

type Shape = readonly [(value: unknown) => boolean, string];
const name: Shape = [isName, 'a name of 1 to 64 ASCII characters'];
const whole: Shape = [(v) => isWhole(v), 'a whole number from 1'];
const SHAPES: Readonly<Record<string, Shape>> = {
  id: [(v) => is(ID_PATTERN, v), '13 digits, 4 hex digits and a writer of 8 letters'],
  n: whole,
  prev: [(v) => is(SHA256, v), '64 hex digits, left out if none'],
  act: [
    (v) => hasOnly(v, 'id', 'of') && isName(v.id) && isWhole(v.of, MAX_ACT),
    `an id and a number of entries up to ${MAX_ACT}`,
  ],
  record: name,
  kind: name,
  set: [isFields, 'fields with their values'],
  seen: [
    (v) => isFields(v) && Object.keys(v).length > 0 && Object.values(v).every(isIds),
    'fields with the ids seen, left out if none',
  ],
  relies: [isIds, 'a list of ids, left out if none'],
  by: name,
  device: name,
  wall: [(v) => is(WALL, v), 'a local time with its offset, as 2025-11-03T08:15:30+00:00'],
  why: [(v) => typeof v === 'string' && v !== '', 'a text, left out if none'],
  schema: whole,
  sig: [
    (v) => hasOnly(v, 'key', 'value') && is(ID_PATTERN, v.key) && is(SIGNATURE, v.value),
    'the id of a key and a signature of 86 letters, left out if none',
  ],
};

/** The refusal of an entry of another form. */
export const wrongShape = (message: string): RefusedLine =>
  new RefusedLine('wrong_shape', message, 'See the table of PROTOCOL.md.');

function checkShape(value: unknown): asserts value is Record<string, unknown> {
  if (!isObject(value)) throw wrongShape('The line is no object; an entry is expected.');
  for (const [key, [fits, expected]] of Object.entries(SHAPES)) {
    const isHere = Object.hasOwn(value, key);
    if (isHere ? fits(value[key]) : Object.hasOwn(BLANK, key)) continue;
    const given = isHere ? String(JSON.stringify(value[key])).slice(0, 60) : 'left out';
    throw wrongShape(`'${key}' is ${given}; expected ${expected}.`);
  }
  if ((value.n as number) > 1 && !Object.hasOwn(value, 'prev'))
    throw wrongShape(`Entry ${value.n} of a writer has no 'prev'; expected the sha256 before.`);
}

/** An entry of the fields given, checked; what is left out needs no naming. */
export const makeEntry = (fields: EntryFields): Entry =>
  fromLine(toLine({ ...BLANK, more: {}, ...fields }));

/** The canonical line of an entry, without line end. */
export function toLine(entry: Entry): string {
  const { more, ...known } = entry;
  const value: Record<string, unknown> = { ...more, ...known };
  for (const key of Object.keys(BLANK)) if (isEmpty(value[key])) delete value[key];
  return canonical(value);
}

const isEmpty = (value: unknown): boolean =>
  value === null || value === '' || (typeof value === 'object' && Object.keys(value).length === 0);

/** The entry of a line as it came; throws RefusedLine with the reason. */
export function fromLine(line: string): Entry {
  const size_bytes = sizeBytes(line);
  if (size_bytes > MAX_LINE_BYTES)
    throw new RefusedLine(
      'too_large',
      `The line has ${size_bytes} bytes; the limit is ${MAX_LINE_BYTES}.`,
      'Split the text over several entries.',
    );
  const value = parse(line);
  checkShape(value);
  const known: Record<string, unknown> = {};
  const more: Record<string, unknown> = {};
  for (const [key, part] of Object.entries(value))
    (Object.hasOwn(SHAPES, key) ? known : more)[key] = part;
  return { ...BLANK, ...known, more } as unknown as Entry;
}

/** What a signature is made over: the line without sig. */
export const signedBytes = (entry: Entry): string => toLine({ ...entry, sig: null });
