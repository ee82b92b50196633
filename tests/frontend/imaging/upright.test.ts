import { describe, expect, it } from 'vitest';
import { describePicture } from '../../../frontend/src/imaging/upright';
import PICTURES from './pictures.json' with { type: 'json' };

/** Small pictures written by an imaging library, named by the hard case. */
function bytesOf(name: keyof typeof PICTURES): ArrayBuffer {
  return new Uint8Array(Buffer.from(PICTURES[name], 'base64')).buffer;
}
const never = async () => expect.unreachable('a header was enough');
const refuses = async () => {
  throw new DOMException('no picture', 'InvalidStateError');
};

describe('describePicture', () => {
  it.each([
    ['plain-wide', 37, 20],
    ['flipped-exif-2', 37, 20],
    ['rotated-exif-6', 20, 37],
    ['turned-exif-8', 23, 41],
    ['turned-exif-5', 23, 41],
  ] as const)('gives the upright size of %s without decoding it', async (name, width, height) => {
    const picture = await describePicture(bytesOf(name), never);
    expect(picture).toMatchObject({
      media_type: 'image/jpeg',
      width_px: width,
      height_px: height,
    });
  });

  it('reads a PNG by its header and asks the browser where one is turned', async () => {
    const plain = await describePicture(bytesOf('plain-png'), never);
    expect(plain).toMatchObject({ media_type: 'image/png', width_px: 31, height_px: 17 });
    const browser = async () => ({ width_px: 17, height_px: 31 });
    const turned = await describePicture(bytesOf('turned-png'), browser);
    expect(turned).toMatchObject({ media_type: 'image/png', width_px: 17, height_px: 31 });
  });

  it('takes the time from the camera with its zone', async () => {
    const picture = await describePicture(bytesOf('rotated-exif-6'), never);
    expect(picture?.taken).toEqual({ wall: '2024-05-17T14:03:22.05', offset: '+01:00' });
  });

  it('calls the zone unknown where the camera gave none', async () => {
    const picture = await describePicture(bytesOf('flipped-exif-2'), never);
    expect(picture?.taken).toEqual({ wall: '2024-05-17T14:03:22.5', offset: 'unknown' });
  });

  it('says nothing of the time where the camera said nothing', async () => {
    expect((await describePicture(bytesOf('plain-wide'), never))?.taken).toBeNull();
  });

  it('asks the browser for other formats', async () => {
    const heic = new Uint8Array([0, 0, 0, 24, ...Buffer.from('ftypheic'), 0, 0, 0, 0]).buffer;
    const picture = await describePicture(heic, async () => ({ width_px: 43, height_px: 29 }));
    expect(picture).toEqual({
      media_type: 'image/heic',
      width_px: 43,
      height_px: 29,
      taken: null,
    });
  });

  it('finds no picture in bytes that are none', async () => {
    const text = new TextEncoder().encode('not a picture at all').buffer as ArrayBuffer;
    expect(await describePicture(text, refuses)).toBeNull();
    expect(await describePicture(new ArrayBuffer(0), refuses)).toBeNull();
  });

  it('never fails on a picture cut short at any byte', async () => {
    const whole = bytesOf('rotated-exif-6');
    for (let length = 0; length < whole.byteLength; length += 1) {
      const picture = await describePicture(whole.slice(0, length), refuses);
      if (picture) expect([picture.width_px, picture.height_px]).toEqual([20, 37]);
    }
  });
});
