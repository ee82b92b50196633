// The tablet's own sender over real connections to a real server, of which many are cut.
import { randomBytes } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { type IncomingMessage, request } from 'node:http';
import { expect, it } from 'vitest';
import { PART_BYTES, sendInParts } from '../../frontend/src/services/parts';
import { type Fetch, isAway, Server } from '../../frontend/src/services/server';
import { sha256OfBytes } from '../../frontend/src/storage/files';

const { TRIAL_GIVEN = '{}', TRIAL_RESULT = '' } = process.env;

interface Given {
  port: number;
  token: string;
  count: number;
  size_bytes: number;
  share: number;
  seed: number;
}

const given = JSON.parse(TRIAL_GIVEN) as Given;

/** mulberry32: numbers that look random and come again with the same seed. */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let word = Math.imul(state ^ (state >>> 15), state | 1);
    word = (word + Math.imul(word ^ (word >>> 7), word | 61)) ^ word;
    return ((word ^ (word >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A line to the server: a part that breaks ends its connection after that many bytes. */
class Line {
  sent_bytes = 0;
  breaks = 0;
  constructor(private readonly next: () => number | null) {}

  readonly fetch: Fetch = (address, init) => {
    const body = init.body instanceof ArrayBuffer ? Buffer.from(init.body) : init.body;
    const share = body instanceof Buffer ? this.next() : null;
    const headers = Object.fromEntries(new Headers(init.headers));
    const { method } = init;
    return new Promise<Response>((done, failed) => {
      const to = { host: '127.0.0.1', port: given.port, path: address, method, headers };
      const asked = request(to, (answer) => void respond(answer).then(done, failed));
      asked.on('error', failed);
      if (share === null || !(body instanceof Buffer)) {
        if (body instanceof Buffer) this.sent_bytes += body.length;
        asked.end(body ?? undefined);
        return;
      }
      const some = Math.floor(share * body.length);
      this.sent_bytes += some;
      this.breaks += 1;
      asked.setHeader('Content-Length', body.length);
      asked.write(body.subarray(0, some), () => asked.destroy(new Error('the line broke')));
      if (some === 0) asked.destroy(new Error('the line broke'));
    });
  };
}

async function respond(answer: IncomingMessage): Promise<Response> {
  const parts: Buffer[] = [];
  for await (const part of answer) parts.push(part as Buffer);
  return new Response(Buffer.concat(parts), { status: answer.statusCode ?? 500 });
}

/** What sending whole files anew would cost, were each MiB as likely to break. */
function wholeAgain(next: () => number | null): number {
  const sizes = [];
  for (let at = 0; at < given.size_bytes; at += PART_BYTES) {
    sizes.push(Math.min(PART_BYTES, given.size_bytes - at));
  }
  let sent = 0;
  for (let n = 0; n < given.count; n += 1) {
    for (let at = 0; at < sizes.length; at += 1) {
      const share = next();
      sent += (sizes[at] as number) * (share ?? 1);
      if (share !== null) at = -1;
    }
  }
  return sent;
}

it('sends photographs over a line that breaks', async () => {
  const fate = (random: () => number) => () => (random() < given.share ? random() : null);
  const line = new Line(fate(seeded(given.seed)));
  const server = new Server(line.fetch);
  server.token = given.token;
  const names: string[] = [];
  for (let n = 0; n < given.count; n += 1) {
    const bytes = new Uint8Array(randomBytes(given.size_bytes)).buffer;
    const sha256 = await sha256OfBytes(bytes);
    names.push(sha256);
    for (let isThere = false; !isThere; ) {
      try {
        await sendInParts(server, sha256, bytes);
        isThere = true;
      } catch (error) {
        if (!isAway(error)) throw error;
      }
    }
  }
  const asked = { sha256: names };
  const { missing } = await server.post<{ missing: string[] }>('/api/photographs/missing', asked);
  expect(missing).toEqual([]);
  const whole_bytes = wholeAgain(fate(seeded(given.seed)));
  const { sent_bytes, breaks } = line;
  writeFileSync(TRIAL_RESULT, JSON.stringify({ sent_bytes, breaks, whole_bytes }));
});
