import 'fake-indexeddb/auto';
import { afterEach, describe, expect, it } from 'vitest';
import { BookStore } from '../../../frontend/src/storage/database';
import {
  keepFetched,
  keepFile,
  readFile,
  sha256OfBytes,
} from '../../../frontend/src/storage/files';
import { fillUp } from './broken';

const bytesOf = (text: string) => new TextEncoder().encode(text).buffer as ArrayBuffer;
// FIPS 180-4, example "abc"; the empty text by the same standard's algorithm.
const ABC = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
const EMPTY = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';

let opened: BookStore | undefined;
let store: BookStore;
let count = 0;
const fresh = () => {
  count += 1;
  store = new BookStore(`files${count}`);
  opened = store;
  return store;
};
afterEach(() => opened?.close());

const abc = {
  bytes: bytesOf('abc'),
  sha256: ABC,
  media_type: 'image/jpeg',
  photograph: 'p3',
  wall_ms: 17,
};
const counts = async () => ({
  files: await store.read(['files'], (tx) => tx.objectStore('files').count()),
  unsent: await store.read(['unsent_files'], (tx) => tx.objectStore('unsent_files').count()),
});

describe('files', () => {
  it('hashes as the published examples', async () => {
    expect(await sha256OfBytes(bytesOf('abc'))).toBe(ABC);
    expect(await sha256OfBytes(bytesOf(''))).toBe(EMPTY);
  });

  it('keeps bytes until they are sent, and the same bytes once', async () => {
    fresh();
    await keepFile(store, abc, 'the photograph');
    await keepFile(store, abc, 'the photograph');
    expect(await readFile(store, ABC)).toEqual(abc.bytes);
    expect(await counts()).toEqual({ files: 1, unsent: 1 });
  });

  it('names every photograph whose bytes wait, and none once the server has them', async () => {
    fresh();
    const named = () =>
      store.read(['unsent_files'], async (tx) => {
        const rows = await tx.objectStore('unsent_files').getAll();
        return rows.map(({ photographs }) => photographs);
      });
    await keepFile(store, abc, 'the photograph');
    await keepFile(store, { ...abc, photograph: 'p7' }, 'the photograph');
    expect(await named()).toEqual([['p3', 'p7']]);
    await store.write(['unsent_files'], (tx) => tx.objectStore('unsent_files').delete(ABC));
    await keepFile(store, { ...abc, photograph: 'p11' }, 'the photograph');
    expect(await named()).toEqual([]);
    expect(await readFile(store, ABC)).toEqual(abc.bytes);
  });

  it('keeps nothing of bytes that read back differently', async () => {
    fresh();
    const work = keepFile(store, { ...abc, sha256: EMPTY }, 'The photograph');
    await expect(work).rejects.toThrow('The photograph does not read back as it was written.');
    expect(await counts()).toEqual({ files: 0, unsent: 0 });
  });

  it('refuses a file from the server whose bytes have another hash', async () => {
    fresh();
    await expect(keepFetched(store, abc.bytes, EMPTY)).rejects.toMatchObject({ code: 'damaged' });
    await keepFetched(store, abc.bytes, ABC);
    expect(await counts()).toEqual({ files: 1, unsent: 0 });
  });

  it('leaves neither bytes nor a note of them when there is no room', async () => {
    fresh();
    const stop = fillUp('unsent_files');
    await expect(keepFile(store, abc, 'the photograph')).rejects.toMatchObject({ code: 'full' });
    stop();
    expect(await counts()).toEqual({ files: 0, unsent: 0 });
  });
});
