/** The bag of a memory stick as it is written; fetched when a file is asked for. */

import { batches } from '@sync/exchange';
import { timeIn } from '../domain/days';
import { readFile, sha256OfBytes } from '../storage/files';
import { readHeld } from '../storage/outbox';
import type { UnsentFile } from '../storage/schema';
import type { StickFile, StickTell } from './shop_stick';
import type { StickHost } from './stick';
import { MAX_ZIP_BYTES, type Sink, StoredZip, utf8 } from './zip';

const ENDINGS: Record<string, string> = {
  'image/jpeg': '.jpg',
  'image/png': '.png',
  'image/webp': '.webp',
  'image/heic': '.heic',
  'application/json': '.json',
};
/** Left for the list, the manifests and the entries when photographs are counted. */
const ROOM_BYTES = 64 * 1024 * 1024;

export class StickWriter {
  constructor(private readonly host: StickHost) {}

  /** The workshop's day and time of now. */
  private moment(): string {
    const { clock } = this.host;
    return `${clock.today()}T${timeIn(clock.zone, clock.now_ms())}:00`;
  }

  async write(name: string, sink: Sink, tell: StickTell): Promise<StickFile> {
    const { store } = this.host;
    const { held, files } = await store.read(['unsent', 'unsent_files'], async (tx) => ({
      held: await readHeld(tx),
      files: await tx.objectStore('unsent_files').getAll(),
    }));
    const bag = new Bag(name, new StoredZip(sink, this.moment()));
    for (const [at, ids] of batches(held).entries()) {
      await bag.add(`data/entries-${String(at + 1).padStart(4, '0')}.jsonl`, await this.lines(ids));
    }
    const told = await this.addFiles(bag, files, tell);
    await this.finish(bag, held.length);
    return { name: `${name}.zip`, entries: held.length, size_bytes: bag.zip.size_bytes, ...told };
  }

  /** Reads, checks and writes one file after the other; what does not read back stays out. */
  private async addFiles(bag: Bag, files: readonly UnsentFile[], tell: StickTell) {
    const most_bytes = this.host.most_bytes ?? MAX_ZIP_BYTES - ROOM_BYTES;
    let [written, left_out, damaged] = [0, 0, 0];
    for (const [at, { sha256, media_type }] of files.entries()) {
      const bytes = await readFile(this.host.store, sha256);
      if (!bytes || (await sha256OfBytes(bytes)) !== sha256) damaged += 1;
      else if (bag.payload_bytes + bytes.byteLength > most_bytes) left_out += 1;
      else {
        const name = `data/photographs/${sha256}${ENDINGS[media_type] ?? ''}`;
        await bag.add(name, new Uint8Array(bytes), sha256);
        written += 1;
      }
      tell(at + 1, files.length);
    }
    return { files: written, left_out, damaged };
  }

  private async lines(ids: readonly string[]): Promise<Uint8Array<ArrayBuffer>> {
    const rows = await this.host.store.read(['entries'], (tx) =>
      Promise.all(ids.map((id) => tx.objectStore('entries').get(id))),
    );
    return utf8(rows.map((row) => `${row?.line ?? ''}\n`).join(''));
  }

  /** Writes what describes the bag; the signature is over the list of these. */
  private async finish(bag: Bag, entries: number): Promise<void> {
    const { device, clock } = this.host;
    const letter = device.letter ? `Skinpin-Letter: ${device.letter}\n` : '';
    const info = `Bag-Software-Agent: Skinpin
Bagging-Date: ${clock.today()}
External-Description: Records and photographs that wait on a tablet for its server
Payload-Oxum: ${bag.payload_bytes}.${bag.manifest.length}
Skinpin-Book: ${device.book}
Skinpin-Tablet: ${device.tablet}
${letter}Skinpin-Entries: ${entries}
`;
    const manifest = utf8(bag.manifest.join(''));
    const tags: string[] = [];
    for (const [name, bytes] of [
      ['bagit.txt', utf8('BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n')],
      ['bag-info.txt', utf8(info)],
      ['manifest-sha256.txt', manifest],
    ] as const) {
      tags.push(`${await sha256OfBytes(bytes.buffer)}  ${name}\n`);
      await bag.put(name, bytes);
    }
    const signed = utf8(tags.join(''));
    await bag.put('tagmanifest-sha256.txt', signed);
    const how = { name: 'ECDSA', hash: 'SHA-256' };
    const signature = await crypto.subtle.sign(how, device.private_key, signed);
    await bag.put('signature.txt', utf8(`${base64url(new Uint8Array(signature))}\n`));
    await bag.zip.end();
  }
}

/** The bag as it grows: its payload is listed while it is written. */
class Bag {
  readonly manifest: string[] = [];
  payload_bytes = 0;

  constructor(
    private readonly base: string,
    readonly zip: StoredZip,
  ) {}

  async add(name: string, bytes: Uint8Array<ArrayBuffer>, sha256?: string): Promise<void> {
    this.manifest.push(`${sha256 ?? (await sha256OfBytes(bytes.buffer))}  ${name}\n`);
    this.payload_bytes += bytes.byteLength;
    await this.put(name, bytes);
  }

  put(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    return this.zip.add(`${this.base}/${name}`, bytes);
  }
}

function base64url(bytes: Uint8Array): string {
  const text = btoa(String.fromCharCode(...bytes));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}
