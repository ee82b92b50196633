// One spelling for one value: RFC 8785 without floats, ASCII keys, text in NFC.

export const MAX_DEPTH = 32;

/** A line that may not enter the book. */
export class RefusedLine extends Error {
  constructor(
    readonly code: string,
    message: string,
    readonly hint = '',
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}

/** The refusal of a value or line that has another spelling. */
export const notCanonical = (message: string, options?: ErrorOptions): RefusedLine =>
  new RefusedLine('not_canonical', message, 'Write the line with canonical().', options);

/** The canonical text of a value; an unfit value is refused. */
export const canonical = (value: unknown): string => write(value, 0);

/** The value of a canonical line; any other line is refused. */
export function parse(line: string): unknown {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch (cause) {
    throw notCanonical(`The line is not JSON: ${(cause as Error).message}.`, { cause });
  }
  if (canonical(value) !== line)
    throw notCanonical(
      'The line is not in canonical form: keys sorted, none twice, no spaces, short escapes.',
    );
  return value;
}

function write(value: unknown, depth: number): string {
  if (typeof value === 'string') return JSON.stringify(checked(value));
  if (Number.isSafeInteger(value)) return String(value);
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'object' && depth >= MAX_DEPTH)
    throw notCanonical(`The value is nested deeper than ${MAX_DEPTH} levels.`);
  if (Array.isArray(value)) return `[${value.map((part) => write(part, depth + 1)).join(',')}]`;
  if (typeof value === 'object') return writeObject(value as Record<string, unknown>, depth);
  throw notCanonical(
    `${String(value)} is neither text, whole number to 2^53 − 1, yes/no, list nor object.`,
  );
}

function writeObject(value: Record<string, unknown>, depth: number): string {
  const parts = Object.keys(value)
    .sort()
    .map((key) => {
      if (!isAscii(key) || key === '__proto__')
        throw notCanonical(`The key '${key}' is not ASCII text, or means another thing.`);
      return `${JSON.stringify(key)}:${write(value[key], depth + 1)}`;
    });
  return `{${parts.join(',')}}`;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are ASCII too
const isAscii = (text: string): boolean => /^[\u0000-\u007f]*$/.test(text);

function checked(text: string): string {
  if (isAscii(text)) return text;
  if (/[\ud800-\udfff]/u.test(text))
    throw notCanonical('A text holds half a character (a lone surrogate).');
  if (text.normalize('NFC') !== text)
    throw notCanonical(`The text '${text.slice(0, 40)}' is not in NFC.`);
  return text;
}

/** What gives the SHA-256 of a text's UTF-8 as 64 lower-case hex digits. */
export type Sha256 = (text: string) => Promise<string>;

declare const TextEncoder: new () => { encode(text: string): Uint8Array<ArrayBuffer> };

interface Subtle {
  digest(algorithm: string, data: Uint8Array<ArrayBuffer>): Promise<ArrayBuffer>;
}

/** The SHA-256 of a text; hand in crypto.subtle. */
export async function sha256Hex(text: string, subtle: Subtle): Promise<string> {
  const digest = new Uint8Array(await subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** How many bytes a text has in UTF-8. */
export const sizeBytes = (text: string): number => new TextEncoder().encode(text).length;
