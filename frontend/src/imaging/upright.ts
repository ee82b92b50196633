/** The upright size of a photograph, and what its bytes say of their making.

JPEG, PNG and HEIC are read from their headers: no pixel is decoded and no canvas is made, so a
48 megapixel photograph costs nothing. Other formats are decoded once by the browser. */

import { type Exif, readExif } from './exif';
import { type Taken, takenOf } from './taken';

export interface Picture {
  media_type: string;
  width_px: number;
  height_px: number;
  taken: Taken | null;
  /** Digital zoom above 1, "2.00". */
  zoom?: string;
}

/** Decodes a picture to learn its upright size; the browser's own way in the app. */
export type Decode = (bytes: ArrayBuffer) => Promise<{ width_px: number; height_px: number }>;

interface Header {
  media_type: string;
  width_px: number;
  height_px: number;
  exif: Exif;
}

/** Returns the upright size and time of a picture, null where the bytes are no picture. */
export async function describePicture(
  bytes: ArrayBuffer,
  decode: Decode = decodeInBrowser,
): Promise<Picture | null> {
  const view = new DataView(bytes);
  const header = attempt(() => readJpeg(view)) ?? attempt(() => readPng(view));
  if (header?.media_type === 'image/png' && header.exif.orientation !== 1) {
    // Browsers differ on turning a PNG, so the one that will show it is asked.
    return { ...fromHeader(header), ...(await decode(bytes)) };
  }
  if (header) return fromHeader(header);
  const media_type = otherType(view);
  // Only some browsers decode a HEIC; what it is can be read in all.
  const heic = media_type === HEIC ? await headerOfHeic(view) : null;
  if (heic) return fromHeader(heic);
  try {
    return { media_type, ...(await decode(bytes)), taken: null };
  } catch {
    return null;
  }
}

/** Whether this browser can show a picture: a HEIC is shown by few. */
export async function isShown(bytes: ArrayBuffer, decode: Decode = decodeInBrowser) {
  if (otherType(new DataView(bytes)) !== HEIC) return true;
  showsHeic ??= decode(bytes).then(
    () => true,
    () => false,
  );
  return showsHeic;
}

const HEIC = 'image/heic';
let showsHeic: Promise<boolean> | null = null;

async function headerOfHeic(view: DataView): Promise<Header | null> {
  const { readHeif } = await import('./heif');
  return attempt(() => {
    const found = readHeif(view);
    return found && { media_type: HEIC, ...found };
  });
}

function fromHeader({ media_type, width_px, height_px, exif }: Header): Picture {
  const turned = exif.orientation >= 5;
  return {
    media_type,
    width_px: turned ? height_px : width_px,
    height_px: turned ? width_px : height_px,
    taken: takenOf(exif),
    ...(exif.zoom ? { zoom: exif.zoom.toFixed(2) } : {}),
  };
}

function attempt(read: () => Header | null): Header | null {
  try {
    return read();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function readJpeg(view: DataView): Header | null {
  if (view.getUint16(0) !== 0xffd8) return null;
  let exif: Exif = { orientation: 1 };
  let at = 2;
  for (;;) {
    if (view.getUint8(at) !== 0xff) return null;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const length = view.getUint16(at + 2);
    if (marker === 0xe1 && asText(view, at + 4, 6) === 'Exif\0\0') {
      exif = readExif(part(view, at + 10, length - 8));
    }
    if (isFrame(marker)) {
      const [height_px, width_px] = [view.getUint16(at + 5), view.getUint16(at + 7)];
      return { media_type: 'image/jpeg', width_px, height_px, exif };
    }
    if (marker === 0xda || marker === 0xd9) return null;
    at += 2 + length;
  }
}

/** Start of frame: 0xC0 to 0xCF but the tables 0xC4, 0xC8, 0xCC (ITU-T T.81, table B.1). */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
}

function readPng(view: DataView): Header | null {
  if (view.getUint32(0) !== 0x89504e47 || asText(view, 12, 4) !== 'IHDR') return null;
  const [width_px, height_px] = [view.getUint32(16), view.getUint32(20)];
  let exif: Exif = { orientation: 1 };
  let at = 8;
  while (at + 8 <= view.byteLength) {
    const length = view.getUint32(at);
    const kind = asText(view, at + 4, 4);
    if (kind === 'eXIf') exif = readExif(part(view, at + 8, length));
    if (kind === 'IDAT' || kind === 'IEND') break;
    at += 12 + length;
  }
  return { media_type: 'image/png', width_px, height_px, exif };
}

function part(view: DataView, at: number, length: number): DataView {
  return new DataView(view.buffer, view.byteOffset + at, length);
}

function asText(view: DataView, at: number, length: number): string {
  let text = '';
  for (let index = at; index < at + length; index += 1) {
    text += String.fromCharCode(view.getUint8(index));
  }
  return text;
}

/** ISO/IEC 23008-12: the brand after "ftyp" tells a HEIF picture. */
function otherType(view: DataView): string {
  try {
    if (asText(view, 4, 4) !== 'ftyp') return 'application/octet-stream';
    return /^(hei|hev|mif1|msf1)/.test(asText(view, 8, 4)) ? HEIC : 'image/avif';
  } catch {
    return 'application/octet-stream';
  }
}

async function decodeInBrowser(bytes: ArrayBuffer) {
  const bitmap = await createImageBitmap(new Blob([bytes]), { imageOrientation: 'from-image' });
  const size = { width_px: bitmap.width, height_px: bitmap.height };
  bitmap.close();
  return size;
}
