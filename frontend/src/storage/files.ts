/** Photographs and other files by hash: written once, read back and hashed again before they count. */

import { Refused } from '../domain/errors';
import type { BookStore } from './database';
import type { WriteTransaction } from './schema';
import { unwaited } from './unwaited';

/** Returns the SHA-256 of bytes as 64 hex digits. */
export async function sha256OfBytes(bytes: ArrayBuffer): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

export interface FileToKeep {
  bytes: ArrayBuffer;
  sha256: string;
  media_type: string;
  photograph: string | null;
  wall_ms: number;
}

/** Keeps a file of this browser until the server has it; resolves when the disk has it. */
export async function keepFile(store: BookStore, file: FileToKeep, what: string): Promise<void> {
  await store.write(['files', 'unsent_files'], (tx) => putFile(tx, file), what);
  await checkKept(store, file.sha256, what);
}

/** Puts bytes and the note that they wait; `checkKept` says afterwards whether they read back. */
export async function putFile(tx: WriteTransaction, file: FileToKeep): Promise<void> {
  const { bytes, sha256, photograph, ...rest } = file;
  const asked = Promise.all([
    tx.objectStore('files').count(sha256),
    tx.objectStore('unsent_files').get(sha256),
  ]);
  // Sent off behind the questions without their answers: the bytes of a hash are always the same.
  unwaited(tx.objectStore('files').put(bytes, sha256));
  const [held, waits] = await asked;
  // The very bytes of an earlier file: they wait once, and no more when the server has them.
  if (held > 0 && !waits) return;
  const photographs = [...(waits?.photographs ?? []), ...(photograph === null ? [] : [photograph])];
  const unsent = waits ?? { sha256, size_bytes: bytes.byteLength, ...rest };
  unwaited(tx.objectStore('unsent_files').put({ ...unsent, photographs }));
}

/** Keeps a file that came from the server, when its bytes have the hash asked for. */
export async function keepFetched(
  store: BookStore,
  bytes: ArrayBuffer,
  sha256: string,
): Promise<void> {
  if ((await sha256OfBytes(bytes)) !== sha256) throw damaged(`The file ${sha256} from the server`);
  await store.write(['files'], (tx) => tx.objectStore('files').put(bytes, sha256), 'a file');
}

/** Returns the bytes of a file, or null. */
export async function readFile(store: BookStore, sha256: string): Promise<ArrayBuffer | null> {
  const bytes = await store.read(['files'], (tx) => tx.objectStore('files').get(sha256));
  return bytes ?? null;
}

/** Reads bytes back from the disk and hashes them again; what does not hold is not kept. */
export async function checkKept(
  store: BookStore,
  sha256: string,
  what: string,
): Promise<ArrayBuffer> {
  const bytes = await readFile(store, sha256);
  if (bytes && (await sha256OfBytes(bytes)) === sha256) return bytes;
  await store.write(['files', 'unsent_files'], async (tx) => {
    await tx.objectStore('files').delete(sha256);
    await tx.objectStore('unsent_files').delete(sha256);
  });
  throw damaged(what);
}

function damaged(what: string): Refused {
  return new Refused(
    'damaged',
    `${what} does not read back as it was written.`,
    'It was not stored. Do it again; if it happens twice, use another tablet.',
  );
}

/** Returns the small copy of a photograph of this size, or null. */
export async function readRendition(
  store: BookStore,
  sha256: string,
  size: number,
): Promise<ArrayBuffer | null> {
  const kept = await store.read(['renditions'], (tx) =>
    tx.objectStore('renditions').get([sha256, size]),
  );
  return kept ?? null;
}

/** Returns the largest small copy of a photograph there is, or null. */
export async function largestRendition(
  store: BookStore,
  sha256: string,
): Promise<ArrayBuffer | null> {
  const any = IDBKeyRange.bound([sha256, 0], [sha256, Number.MAX_SAFE_INTEGER]);
  const kept = await store.read(['renditions'], (tx) => tx.objectStore('renditions').getAll(any));
  return kept.at(-1) ?? null;
}

/** Keeps a small copy; a tablet that is full does without it. */
export async function keepRendition(
  store: BookStore,
  bytes: ArrayBuffer,
  sha256: string,
  size: number,
): Promise<void> {
  try {
    await putRendition(store, bytes, sha256, size);
  } catch (error) {
    if (!(error instanceof Refused) || error.code !== 'full') throw error;
  }
}

/** Keeps a small copy, or refuses where there is no room. */
export async function putRendition(
  store: BookStore,
  bytes: ArrayBuffer,
  sha256: string,
  size: number,
): Promise<void> {
  const key: [string, number] = [sha256, size];
  const put = (tx: WriteTransaction) => tx.objectStore('renditions').put(bytes, key);
  await store.write(['renditions'], put, 'a small copy');
}
