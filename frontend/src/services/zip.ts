/** Writes a ZIP whose files are stored as they are, one after the other: nothing is held back. */

/** Where the bytes go; a slow one is waited for. */
export interface Sink {
  write(bytes: Uint8Array<ArrayBuffer>): Promise<void>;
}

/** A memory stick of the common kind holds no larger file, and the list has no longer numbers. */
export const MAX_ZIP_BYTES = 4_294_967_295;

interface Listed {
  name: Uint8Array<ArrayBuffer>;
  crc: number;
  size_bytes: number;
  at: number;
}

/** Files are added in turn; `end` writes the list. `wall` is "2025-11-03T08:15:30…". */
export class StoredZip {
  size_bytes = 0;
  private readonly listed: Listed[] = [];
  private readonly time: [number, number];

  constructor(
    private readonly sink: Sink,
    wall: string,
  ) {
    this.time = dosTime(wall);
  }

  async add(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    const one = { name: utf8(name), crc: crc32(bytes), size_bytes: bytes.byteLength };
    const at = this.size_bytes;
    this.listed.push({ ...one, at });
    await this.put(this.header(0x04034b50, { ...one, at }));
    await this.put(bytes);
  }

  async end(): Promise<void> {
    const at = this.size_bytes;
    for (const one of this.listed) await this.put(this.header(0x02014b50, one));
    const count = this.listed.length;
    const last = new DataView(new ArrayBuffer(22));
    last.setUint32(0, 0x06054b50, true);
    last.setUint16(8, count, true);
    last.setUint16(10, count, true);
    last.setUint32(12, this.size_bytes - at, true);
    last.setUint32(16, at, true);
    await this.put(new Uint8Array(last.buffer));
  }

  private async put(bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    this.size_bytes += bytes.byteLength;
    await this.sink.write(bytes);
  }

  /** What stands before a file (30 bytes and its name), and in the list (46 and its name). */
  private header(signature: number, one: Listed): Uint8Array<ArrayBuffer> {
    const inList = signature === 0x02014b50;
    const room = new Uint8Array((inList ? 46 : 30) + one.name.byteLength);
    const view = new DataView(room.buffer);
    const from = inList ? 6 : 4;
    view.setUint32(0, signature, true);
    if (inList) view.setUint16(4, 20, true);
    view.setUint16(from, 20, true);
    view.setUint16(from + 2, 0x0800, true); // the name is UTF-8
    view.setUint16(from + 6, this.time[1], true);
    view.setUint16(from + 8, this.time[0], true);
    view.setUint32(from + 10, one.crc, true);
    view.setUint32(from + 14, one.size_bytes, true);
    view.setUint32(from + 18, one.size_bytes, true);
    view.setUint16(from + 22, one.name.byteLength, true);
    if (inList) view.setUint32(42, one.at, true);
    room.set(one.name, inList ? 46 : 30);
    return room;
  }
}

export function utf8(text: string): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
}

const TABLE = Int32Array.from({ length: 256 }, (_, at) => {
  let left = at;
  for (let bit = 0; bit < 8; bit += 1) left = left & 1 ? (left >>> 1) ^ 0xedb88320 : left >>> 1;
  return left;
});

/** CRC-32 of ISO 3309, as ZIP takes it. */
export function crc32(bytes: Uint8Array): number {
  let found = -1;
  for (const byte of bytes) found = (found >>> 8) ^ (TABLE[(found ^ byte) & 255] as number);
  return (found ^ -1) >>> 0;
}

/** Date and time of a ZIP: years from 1980, every other second. */
function dosTime(wall: string): [number, number] {
  const [year = 1980, month = 1, day = 1, hour = 0, minute = 0, second = 0] = (
    wall.match(/\d+/g) ?? []
  ).map(Number);
  const date = ((Math.max(year, 1980) - 1980) << 9) | (month << 5) | day;
  return [date, (hour << 11) | (minute << 5) | (second >> 1)];
}
