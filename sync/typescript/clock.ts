// Hybrid logical clock: ids whose text order is the order in which a writer could know of them.
// Kulkarni et al., "Logical Physical Clocks", OPODIS 2014. `receive` only remembers the greater
// stamp; `tick` steps past it, so receiving twice changes nothing.

const MAX_MS = 10 ** 13 - 1;
const MAX_COUNTER = 0xffff;
export const MAX_AHEAD_MS = 300_000;
export const ID_PATTERN = /^([0-9]{13})-([0-9a-f]{4})-([0-9a-z]{8})$/;

/** The last stamp a writer made or received. */
export interface Clock {
  readonly writer: string;
  readonly last_ms: number;
  readonly counter: number;
}

/** A writer name, eight of 0-9a-z, from at least eight random bytes. */
export function newWriter(randomBytes: Uint8Array): string {
  if (randomBytes.length < 8)
    throw new RangeError(`A writer needs 8 random bytes; ${randomBytes.length} were given.`);
  const number = new DataView(randomBytes.buffer, randomBytes.byteOffset).getBigUint64(0);
  return [...number.toString(36).padStart(8, '0').slice(-8)].reverse().join('');
}

/** The clock of a writer that has stamped nothing yet. */
export const newClock = (writer: string): Clock => ({ writer, last_ms: 0, counter: 0 });

/** The stamp as text: 13 digits of ms, 4 of hex, the writer. */
export function encode({ writer, last_ms, counter }: Clock): string {
  return `${String(last_ms).padStart(13, '0')}-${counter.toString(16).padStart(4, '0')}-${writer}`;
}

/** The clock whose stamp this is. */
export function decode(stamp: string): Clock {
  const [, ms, counter, writer] = ID_PATTERN.exec(stamp) ?? [];
  if (ms === undefined || counter === undefined || writer === undefined)
    throw new RangeError(`'${stamp}' is no id; expected MMMMMMMMMMMMM-CCCC-writer.`);
  return { writer, last_ms: Number(ms), counter: Number.parseInt(counter, 16) };
}

/** The clock after one stamp, and the stamp: later than any made or received. */
export function tick(clock: Clock, now_ms: number): [Clock, string] {
  let last_ms = now_ms;
  let counter = 0;
  if (now_ms <= clock.last_ms) {
    const carries = clock.counter >= MAX_COUNTER;
    last_ms = clock.last_ms + (carries ? 1 : 0);
    counter = carries ? 0 : clock.counter + 1;
  }
  if (last_ms > MAX_MS)
    throw new RangeError(`The clock stands at ${last_ms} ms, past ${MAX_MS}. Set the time.`);
  const after = { ...clock, last_ms, counter };
  return [after, encode(after)];
}

/** The clock knowing of a stamp; one too far ahead of now never moves it. */
export function receive(clock: Clock, stamp: string, now_ms: number): Clock {
  const { last_ms, counter } = decode(stamp);
  const isLater = last_ms > clock.last_ms || (last_ms === clock.last_ms && counter > clock.counter);
  return isLater && last_ms <= now_ms + MAX_AHEAD_MS ? { ...clock, last_ms, counter } : clock;
}

/** Whether a clock was led so far ahead that its writer must be given up. */
export const runsAhead = (clock: Clock, now_ms: number): boolean =>
  clock.last_ms > now_ms + MAX_AHEAD_MS;

/** What to add to this device's time to get the server's. */
export const offsetMs = (server_ms: number, sent_ms: number, received_ms: number): number =>
  server_ms - Math.floor((sent_ms + received_ms) / 2);
