/** The upright size and the camera's time of a HEIC, from its boxes: no pixel is decoded.

ISO/IEC 14496-12 (boxes, items) and 23008-12 (ispe, irot; from memory). A HEIC is turned by its own
`irot`; the orientation in its EXIF only repeats that and turns nothing. */

import { type Exif, readExif } from './exif';

export interface Heif {
  width_px: number;
  height_px: number;
  exif: Exif;
}

interface Box {
  kind: string;
  /** Where its content begins, and where it ends. */
  from: number;
  to: number;
}

/** Returns what a HEIC says of itself; null where it lacks a size. Throws RangeError where it is
cut short. */
export function readHeif(view: DataView): Heif | null {
  const meta = boxesIn(view, 0, view.byteLength).find((one) => one.kind === 'meta');
  if (!meta) return null;
  const parts = boxesIn(view, meta.from + 4, meta.to);
  const part = (kind: string) => parts.find((one) => one.kind === kind);
  const [primary, named] = [part('pitm'), part('iprp')];
  if (!primary || !named) return null;
  const size = sizeOf(view, named, itemNumber(view, primary.from + 4, view.getUint8(primary.from)));
  return size && { ...size, exif: exifOf(view, part('iinf'), part('iloc')) };
}

function boxesIn(view: DataView, from: number, to: number): Box[] {
  const found: Box[] = [];
  let at = from;
  while (at + 8 <= to) {
    let [length, head] = [view.getUint32(at), 8];
    if (length === 1) [length, head] = [Number(view.getBigUint64(at + 8)), 16];
    if (length === 0) length = to - at;
    if (length < head) break;
    found.push({ kind: text(view, at + 4), from: at + head, to: Math.min(to, at + length) });
    at += length;
  }
  return found;
}

function text(view: DataView, at: number): string {
  return String.fromCharCode(...[0, 1, 2, 3].map((off) => view.getUint8(at + off)));
}

function itemNumber(view: DataView, at: number, version: number): number {
  return version === 0 ? view.getUint16(at) : view.getUint32(at);
}

/** The size of the primary item as it is to be shown. */
function sizeOf(view: DataView, named: Box, primary: number) {
  const inside = boxesIn(view, named.from, named.to);
  const container = inside.find((one) => one.kind === 'ipco');
  if (!container) return null;
  const properties = boxesIn(view, container.from, container.to);
  const own = inside
    .filter((one) => one.kind === 'ipma')
    .flatMap((one) => namedBy(view, one, primary))
    .map((index) => properties[index - 1]);
  const extent = own.find((one) => one?.kind === 'ispe');
  if (!extent) return null;
  const [width, height] = [view.getUint32(extent.from + 4), view.getUint32(extent.from + 8)];
  const turn = own.find((one) => one?.kind === 'irot');
  const isTurned = turn !== undefined && view.getUint8(turn.from) % 2 === 1;
  return isTurned ? { width_px: height, height_px: width } : { width_px: width, height_px: height };
}

/** Numbers of the properties of an item, counted from 1. */
function namedBy(view: DataView, { from }: Box, item: number): number[] {
  const version = view.getUint8(from);
  const isWide = (view.getUint8(from + 3) & 1) === 1;
  let at = from + 8;
  for (let left = view.getUint32(from + 4); left > 0; left -= 1) {
    const here = itemNumber(view, at, version);
    at += version === 0 ? 2 : 4;
    const count = view.getUint8(at);
    const step = isWide ? 2 : 1;
    if (here === item) {
      return Array.from({ length: count }, (_, each) =>
        isWide ? view.getUint16(at + 1 + 2 * each) & 0x7fff : view.getUint8(at + 1 + each) & 0x7f,
      );
    }
    at += 1 + count * step;
  }
  return [];
}

/** The EXIF block of the first item that is one; orientation 1, for the item itself is turned. */
function exifOf(view: DataView, names: Box | undefined, places: Box | undefined): Exif {
  const none: Exif = { orientation: 1 };
  if (!names || !places) return none;
  const version = view.getUint8(names.from);
  const entries = boxesIn(view, names.from + (version === 0 ? 6 : 8), names.to);
  const entry = entries.find((one) => {
    const wide = view.getUint8(one.from) > 2 ? 4 : 2;
    return one.kind === 'infe' && text(view, one.from + 4 + wide + 2) === 'Exif';
  });
  if (!entry) return none;
  const number = itemNumber(view, entry.from + 4, view.getUint8(entry.from) > 2 ? 1 : 0);
  const place = placeOf(view, places, number);
  if (!place) return none;
  // Four bytes say how far behind them the TIFF block begins.
  const skip = 4 + view.getUint32(place.from);
  const block = new DataView(view.buffer, view.byteOffset + place.from + skip, place.length - skip);
  return { ...readExif(block), orientation: 1 };
}

/** Where the first part of an item lies in the file. */
function placeOf(view: DataView, { from }: Box, item: number) {
  const version = view.getUint8(from);
  const sizes = view.getUint16(from + 4);
  const [off_size, long_size, base_size] = [sizes >> 12, (sizes >> 8) & 15, (sizes >> 4) & 15];
  const index_size = version > 0 ? sizes & 15 : 0;
  const wide = version < 2 ? 2 : 4;
  let at = from + 6 + wide;
  const count = itemNumber(view, from + 6, version < 2 ? 0 : 1);
  for (let left = count; left > 0; left -= 1) {
    const here = itemNumber(view, at, version < 2 ? 0 : 1);
    at += wide;
    const inFile = version === 0 || (view.getUint16(at) & 15) === 0;
    at += (version > 0 ? 2 : 0) + 2;
    const base = sized(view, at, base_size);
    const parts = view.getUint16(at + base_size);
    at += base_size + 2;
    const first = at + index_size;
    if (here === item && inFile && parts > 0) {
      const length = sized(view, first + off_size, long_size);
      return { from: base + sized(view, first, off_size), length };
    }
    at += parts * (index_size + off_size + long_size);
  }
  return null;
}

function sized(view: DataView, at: number, bytes: number): number {
  if (bytes === 8) return Number(view.getBigUint64(at));
  return bytes === 4 ? view.getUint32(at) : 0;
}
