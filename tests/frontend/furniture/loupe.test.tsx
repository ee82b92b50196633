// @vitest-environment happy-dom
import { afterEach, describe, expect, it } from 'vitest';
import { PictureScale } from '../../../frontend/src/furniture/frame.ts';
import { Loupe, loupeCentre } from '../../../frontend/src/furniture/loupe.tsx';
import { cleared, drawn } from './dom.ts';

afterEach(cleared);

describe('the loupe', () => {
  it('stands at the head of the picture, on the side away from the finger', () => {
    expect(loupeCentre({ x: 1500, y: 90 }, 1600, 2).x).toBe(184);
    expect(loupeCentre({ x: 100, y: 1100 }, 1600, 2)).toEqual({ x: 1416, y: 184 });
  });

  it('stands in the corner that is farthest from every point, each pixel as large as asked', () => {
    const points = [
      { x: 300, y: 300 },
      { x: 1400, y: 200 },
      { x: 1500, y: 1100 },
    ];
    const box = drawn(
      <svg aria-hidden="true">
        <PictureScale.Provider value={2}>
          <Loupe
            at={{ x: 300, y: 300 }}
            src="blob:one"
            width_px={1600}
            height_px={1200}
            clear={points}
            px={3}
          />
        </PictureScale.Provider>
      </svg>,
    );
    expect(box.querySelector('.loupe')?.getAttribute('transform')).toBe('translate(184 1016)');
    const image = box.querySelector('image');
    expect(image?.getAttribute('transform')).toBe('scale(6) translate(-300 -300)');
  });

  it('shows the point under the finger in its middle, three times as large', () => {
    const box = drawn(
      <svg aria-hidden="true">
        <PictureScale.Provider value={2}>
          <Loupe at={{ x: 130, y: 70 }} src="blob:one" width_px={1600} height_px={900} />
        </PictureScale.Provider>
      </svg>,
    );
    const image = box.querySelector('image');
    expect(image?.getAttribute('href')).toBe('blob:one');
    expect(image?.getAttribute('transform')).toBe('scale(3) translate(-130 -70)');
    expect(box.querySelector('.loupe')?.getAttribute('transform')).toBe('translate(1416 184)');
  });
});
