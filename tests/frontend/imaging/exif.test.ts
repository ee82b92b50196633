import { describe, expect, it } from 'vitest';
import { readExif } from '../../../frontend/src/imaging/exif';

/** A TIFF block with one orientation tag. */
function block(orientation: number, little: boolean): DataView {
  const view = new DataView(new ArrayBuffer(26));
  view.setUint16(0, little ? 0x4949 : 0x4d4d);
  view.setUint16(2, 42, little);
  view.setUint32(4, 8, little);
  view.setUint16(8, 1, little);
  view.setUint16(10, 0x0112, little);
  view.setUint16(12, 3, little);
  view.setUint32(14, 1, little);
  view.setUint16(18, orientation, little);
  return view;
}

function tag(view: DataView, at: number, number: number, type: number, value: number): void {
  view.setUint16(at, number, true);
  view.setUint16(at + 2, type, true);
  view.setUint32(at + 4, 1, true);
  view.setUint32(at + 8, value, true);
}

describe('readExif', () => {
  it.each([true, false])('reads both byte orders (little: %s)', (little) => {
    expect(readExif(block(6, little))).toEqual({ orientation: 6 });
  });

  it.each([0, 9, 65535])('takes the orientation %i for none', (orientation) => {
    expect(readExif(block(orientation, true))).toEqual({ orientation: 1 });
  });

  it.each([
    [200, 100, 2],
    [100, 100, undefined],
    [1, 0, undefined],
  ])('reads a digital zoom of %i / %i as %s', (part, of, zoom) => {
    const view = new DataView(new ArrayBuffer(64));
    view.setUint16(0, 0x4949);
    view.setUint32(4, 8, true);
    // One tag that leads to the Exif folder at 26, and in that the ratio at 44.
    view.setUint16(8, 1, true);
    tag(view, 10, 0x8769, 4, 26);
    view.setUint16(26, 1, true);
    tag(view, 28, 0xa404, 5, 44);
    view.setUint32(44, part, true);
    view.setUint32(48, of, true);
    expect(readExif(view).zoom).toBe(zoom);
  });

  it('reads an empty or cut block as one without tags', () => {
    expect(readExif(new DataView(new ArrayBuffer(0)))).toEqual({ orientation: 1 });
    const cut = new DataView(block(6, true).buffer, 0, 17);
    expect(readExif(cut)).toEqual({ orientation: 1 });
  });
});
