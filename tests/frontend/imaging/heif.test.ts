import { describe, expect, it } from 'vitest';
import { readHeif } from '../../../frontend/src/imaging/heif';
import { describePicture, isShown } from '../../../frontend/src/imaging/upright';
import PICTURES from './pictures.json' with { type: 'json' };

/** 96 by 64 as it is seen; the second is stored turned by a quarter, with its `irot`. */
const NAMES = ['plain-heic', 'turned-heic'] as const;
const bytesOf = (name: (typeof NAMES)[number]) =>
  new Uint8Array(Buffer.from(PICTURES[name], 'base64')).buffer;
const refuses = async () => {
  throw new DOMException('no picture', 'InvalidStateError');
};

describe('readHeif', () => {
  it.each(NAMES)('gives the upright size and the time of %s without decoding', async (name) => {
    expect(await describePicture(bytesOf(name), refuses)).toEqual({
      media_type: 'image/heic',
      width_px: 96,
      height_px: 64,
      taken: { wall: '2024-05-17T14:03:22.05', offset: '+01:00' },
    });
  });

  it('turns by its own sign alone: the orientation in its EXIF turns nothing more', () => {
    expect(readHeif(new DataView(bytesOf('turned-heic')))?.exif.orientation).toBe(1);
  });

  it('never fails on a picture cut short at any byte', async () => {
    const whole = bytesOf('turned-heic');
    for (let length = 0; length < whole.byteLength; length += 1) {
      const picture = await describePicture(whole.slice(0, length), refuses);
      if (picture) expect([picture.width_px, picture.height_px]).toEqual([96, 64]);
    }
  });

  it('never fails on a picture of which a byte is changed', async () => {
    const whole = new Uint8Array(bytesOf('turned-heic'));
    for (let at = 0; at < 420; at += 1) {
      for (const value of [0, 1, 0x7f, 0xff]) {
        const changed = whole.slice();
        changed[at] = value;
        const picture = await describePicture(changed.buffer, refuses);
        if (picture) expect(picture.width_px).toBeGreaterThanOrEqual(0);
      }
    }
  });
});

describe('isShown', () => {
  it('asks the browser of a HEIC alone', async () => {
    const jpeg = new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer;
    expect(await isShown(jpeg, refuses)).toBe(true);
    expect(await isShown(bytesOf('plain-heic'), refuses)).toBe(false);
  });
});
