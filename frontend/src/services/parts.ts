/** Photographs in parts of 1 MiB: what broke is asked for again, what arrived is not sent twice. */

import { Refused } from '../domain/errors';
import { sha256OfBytes } from '../storage/files';
import type { Server } from './server';

/** Larger files go in parts of this size, the last one the rest. */
export const PART_BYTES = 1024 * 1024;
/** How often in a row a part may break before the run ends; the next run goes on from there. */
const MOST_BREAKS = 3;
const WAIT_MS = 60_000;
/** A part that did not arrive, or not as it was sent. */
const BROKEN = ['away', 'wrong_sha256', 'cut_short'];

interface Here {
  whole: boolean;
  size_bytes: number | null;
  here: number[];
}

/** Sends what the server lacks of a file; returns when the server has all of it.

`isBegun` says whether some parts may be there: only then is it asked before the first part. */
export async function sendInParts(
  server: Server,
  sha256: string,
  bytes: ArrayBuffer,
  isBegun = true,
): Promise<void> {
  let breaks = 0;
  let damaged = 0;
  let missing: number[] | null = isBegun ? null : placesOf(bytes.byteLength);
  while (missing === null || missing.length > 0) {
    try {
      missing ??= await askMissing(server, sha256, bytes.byteLength);
      if (missing.length > 0) missing = await sendPart(server, sha256, bytes, missing[0] as number);
      breaks = 0;
    } catch (error) {
      breaks += 1;
      if (!(error instanceof Refused && BROKEN.includes(error.code))) throw error;
      // Bytes that went bad on the tablet are taken part by part and refused as a whole.
      if (error.code === 'wrong_sha256') damaged += 1;
      if (breaks > MOST_BREAKS || damaged > MOST_BREAKS) throw error;
      missing = null;
    }
  }
}

/** Asks which parts are missing there; of another size than ours nothing is here. */
async function askMissing(server: Server, sha256: string, size_bytes: number): Promise<number[]> {
  const told = await server.get<Here & Record<string, never>>(partsOf(sha256));
  if (told.whole) return [];
  const here = new Set(told.size_bytes === size_bytes ? told.here : []);
  return placesOf(size_bytes).filter((n) => !here.has(n));
}

function placesOf(size_bytes: number): number[] {
  return Array.from({ length: Math.ceil(size_bytes / PART_BYTES) }, (_, n) => n);
}

/** Sends one part; returns which are missing after it. */
async function sendPart(
  server: Server,
  sha256: string,
  bytes: ArrayBuffer,
  n: number,
): Promise<number[]> {
  const body = bytes.slice(n * PART_BYTES, (n + 1) * PART_BYTES);
  const headers = {
    'Content-Type': 'application/octet-stream',
    'Skinpin-Sha256': await sha256OfBytes(body),
    'Skinpin-Size-Bytes': String(bytes.byteLength),
  };
  const init = { method: 'PUT', headers, body };
  const answer = await server.send(`${partsOf(sha256)}/${n}`, init, WAIT_MS);
  return missingIn(await answer.text().catch(() => ''));
}

/** Reads an answer; one that was cut short counts as broken, and what is missing is asked anew. */
function missingIn(text: string): number[] {
  try {
    return (JSON.parse(text) as { missing: number[] }).missing;
  } catch (cause) {
    throw new Refused('away', 'The server’s answer was cut short.', '', { cause });
  }
}

function partsOf(sha256: string): string {
  return `/api/photographs/${sha256}/parts`;
}
