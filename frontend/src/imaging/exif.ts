/** Reads the few EXIF tags a photograph's record needs: orientation, time of taking, digital zoom.

Tag numbers and types: CIPA DC-008, Exif 2.32. Whatever does not read is left out; a damaged
tag never stops a photograph from being kept. */

export interface Exif {
  /** 1 to 8; 1 where none is given. */
  orientation: number;
  /** "YYYY:MM:DD HH:MM:SS" as the camera wrote it. */
  taken_at?: string;
  /** "+01:00". */
  taken_offset?: string;
  /** Digits of a fraction of a second. */
  taken_fraction?: string;
  /** Digital zoom above 1: pixels were made out of fewer. */
  zoom?: number;
}

const ORIENTATION = 0x0112;
const EXIF_FOLDER = 0x8769;
const DATE_TIME_ORIGINAL = 0x9003;
const OFFSET_TIME_ORIGINAL = 0x9011;
const SUB_SEC_TIME_ORIGINAL = 0x9291;
const DIGITAL_ZOOM_RATIO = 0xa404;
const SHORT = 3;
const LONG = 4;
const ASCII = 2;
const RATIONAL = 5;

/** Reads a TIFF block: what follows "Exif\0\0" in a JPEG, or an eXIf chunk of a PNG. */
export function readExif(block: DataView): Exif {
  const exif: Exif = { orientation: 1 };
  try {
    const little = block.getUint16(0) === 0x4949;
    const first = readFolder(block, block.getUint32(4, little), little);
    const orientation = numberOf(block, first.get(ORIENTATION), little);
    if (orientation !== null && orientation >= 1 && orientation <= 8) {
      exif.orientation = orientation;
    }
    const at = numberOf(block, first.get(EXIF_FOLDER), little);
    const tags = at === null ? null : readFolder(block, at, little);
    if (tags) takeTimes(exif, block, tags, little);
    const zoom = tags && ratioOf(block, tags.get(DIGITAL_ZOOM_RATIO), little);
    if (zoom && zoom > 1) exif.zoom = zoom;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
  return exif;
}

interface Tag {
  type: number;
  count: number;
  /** Where its four bytes of value or address lie. */
  at: number;
}

function readFolder(block: DataView, start: number, little: boolean): Map<number, Tag> {
  const tags = new Map<number, Tag>();
  const count = block.getUint16(start, little);
  for (let index = 0; index < count; index += 1) {
    const at = start + 2 + 12 * index;
    const type = block.getUint16(at + 2, little);
    tags.set(block.getUint16(at, little), {
      type,
      count: block.getUint32(at + 4, little),
      at: at + 8,
    });
  }
  return tags;
}

function numberOf(block: DataView, tag: Tag | undefined, little: boolean): number | null {
  if (tag?.type === SHORT) return block.getUint16(tag.at, little);
  return tag?.type === LONG ? block.getUint32(tag.at, little) : null;
}

function ratioOf(block: DataView, tag: Tag | undefined, little: boolean): number | null {
  if (tag?.type !== RATIONAL) return null;
  const at = block.getUint32(tag.at, little);
  // A denominator of nought says that none was used.
  const of = block.getUint32(at + 4, little);
  return of === 0 ? null : block.getUint32(at, little) / of;
}

function textOf(block: DataView, tag: Tag | undefined, little: boolean): string | null {
  if (tag?.type !== ASCII || tag.count > 64) return null;
  const start = tag.count > 4 ? block.getUint32(tag.at, little) : tag.at;
  let text = '';
  for (let at = start; at < start + tag.count; at += 1) {
    const code = block.getUint8(at);
    if (code === 0) break;
    text += String.fromCharCode(code);
  }
  return text.trim();
}

function takeTimes(exif: Exif, block: DataView, tags: Map<number, Tag>, little: boolean): void {
  const taken = textOf(block, tags.get(DATE_TIME_ORIGINAL), little);
  const offset = textOf(block, tags.get(OFFSET_TIME_ORIGINAL), little);
  const fraction = textOf(block, tags.get(SUB_SEC_TIME_ORIGINAL), little);
  if (taken) exif.taken_at = taken;
  if (offset) exif.taken_offset = offset;
  if (fraction) exif.taken_fraction = fraction;
}
