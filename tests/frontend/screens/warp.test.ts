import { describe, expect, it } from 'vitest';
import { apply } from '../../../frontend/src/domain/photo_geometry';
import { cssTransform } from '../../../frontend/src/screens/same_view/warp';

/** Where CSS puts a point of an image, by the definition of matrix3d (CSS Transforms Level 2). */
function putBy(css: string, [x, y]: [number, number]): [number, number] {
  const m = css.slice('matrix3d('.length, -1).split(',').map(Number) as number[];
  const of = (at: number) => m[at] as number;
  const put = (row: number) => of(row) * x + of(row + 4) * y + of(row + 12);
  return [put(0) / put(3), put(1) / put(3)];
}

describe('a picture laid over another', () => {
  const to_other = [0.9, 0.1, 30, -0.1, 0.95, 40, 1e-5, -2e-5, 1];

  it('lies on the screen where its transform says', () => {
    const css = cssTransform({ size: [1600, 1200], mirrored: false }, [2000, 1500], 500, to_other);
    for (const point of [
      [0, 0],
      [1600, 1200],
      [800, 100],
    ] as [number, number][]) {
      const [x, y] = apply(to_other, point);
      const [left, top] = putBy(css, point);
      expect([left, top]).toEqual([expect.closeTo(x / 4, 4), expect.closeTo(y / 4, 4)]);
    }
  });

  it('is turned first where it was seen in a mirror', () => {
    const css = cssTransform({ size: [1600, 1200], mirrored: true }, [1600, 1200], 1600, to_other);
    const [x, y] = apply(to_other, [1500, 20]);
    expect(putBy(css, [100, 20])).toEqual([expect.closeTo(x, 4), expect.closeTo(y, 4)]);
  });

  it('stands in the middle of the frame where it was not fitted', () => {
    const css = cssTransform({ size: [900, 1600], mirrored: false }, [1600, 1200], 800, null);
    expect(putBy(css, [450, 800])).toEqual([expect.closeTo(400), expect.closeTo(300)]);
    expect(putBy(css, [450, 0])[1]).toBeCloseTo(0);
  });
});
