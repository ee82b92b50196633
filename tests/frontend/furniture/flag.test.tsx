// @vitest-environment happy-dom
import { afterEach, describe, expect, it } from 'vitest';
import { Flag, flagLines, flagWidth } from '../../../frontend/src/furniture/flag.tsx';
import { PictureBounds, PictureScale } from '../../../frontend/src/furniture/frame.ts';
import type { Point } from '../../../frontend/src/furniture/strokes.ts';
import { cleared, drawn } from './dom.ts';

afterEach(cleared);

const CARD = 'scale card 80.0 ± 0.4 × 50.00 ± 0.25 mm';

/** A flag on a photograph of 1600 × 1200 px of which the screen shows one in `scale`. */
function flagOn(at: Point, scale: number, mirrored = false, words = '60.0 ± 0.4 mm') {
  const box = drawn(
    <svg aria-hidden="true">
      <PictureBounds.Provider value={{ width_px: 1600, height_px: 1200, mirrored }}>
        <PictureScale.Provider value={scale}>
          <Flag at={at} words={words} on="picture" />
        </PictureScale.Provider>
      </PictureBounds.Provider>
    </svg>,
  );
  const group = box.querySelector('g')?.getAttribute('transform') ?? '';
  const [x, y, across, down] = (group.match(/-?[\d.]+/g) ?? []).map(Number) as number[];
  const wide = Number(box.querySelector('rect')?.getAttribute('width')) * scale;
  const high = Number(box.querySelector('rect')?.getAttribute('height')) * scale;
  return { x, y, across, down, wide, high } as Record<string, number>;
}

describe('a paper flag on a photograph', () => {
  it('stands where it is put while there is room', () => {
    expect(flagOn({ x: 800, y: 600 }, 2)).toMatchObject({ x: 800, y: 600, across: 2, down: 2 });
  });

  it('is never cut by an edge of the photograph', () => {
    for (const scale of [1, 2, 4, 6])
      for (const at of [0, 1600].flatMap((x) => [0, 1200].map((y) => ({ x, y })))) {
        const { x, y, wide, high } = flagOn(at, scale, false, CARD) as Required<
          Record<'x' | 'y' | 'wide' | 'high', number>
        >;
        expect(x - wide / 2).toBeGreaterThanOrEqual(0);
        expect(x + wide / 2).toBeLessThanOrEqual(1600);
        expect(y - high / 2).toBeGreaterThanOrEqual(0);
        expect(y + high / 2).toBeLessThanOrEqual(1200);
      }
  });

  it('reads from the left in a picture that is shown turned', () => {
    expect(flagOn({ x: 800, y: 600 }, 2, true)).toMatchObject({ across: -2, down: 2 });
  });

  it('takes a second line where it is wider than the photograph, broken before the second size', () => {
    const fits = (line: string) => flagWidth(line, 18) <= 300;
    expect(flagLines(CARD, fits)).toEqual(['scale card 80.0 ± 0.4', '× 50.00 ± 0.25 mm']);
    expect(flagLines('60.0 ± 0.4 mm', fits)).toEqual(['60.0 ± 0.4 mm']);
  });
});
