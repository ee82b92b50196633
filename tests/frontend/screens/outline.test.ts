import { describe, expect, it } from 'vitest';
import { outlined } from '../../../frontend/src/screens/same_view/outline';

describe('an outline', () => {
  it('is drawn along an edge with a light line beside it, and nowhere else', () => {
    const [width, height] = [40, 30];
    const grey = new Uint8ClampedArray(width * height).map((_, at) => (at % width < 20 ? 60 : 200));
    const drawn = outlined(grey, width, height);
    const tone = (x: number) => [...drawn.slice((15 * width + x) * 4, (15 * width + x) * 4 + 4)];
    expect([tone(19), tone(20)]).toEqual([
      [16, 16, 16, 255],
      [16, 16, 16, 255],
    ]);
    expect([tone(18), tone(21)]).toEqual([
      [255, 255, 255, 255],
      [255, 255, 255, 255],
    ]);
    expect(tone(5)).toEqual([0, 0, 0, 0]);
  });

  it('of an even picture is empty', () => {
    expect(outlined(new Uint8ClampedArray(900).fill(77), 30, 30).some(Boolean)).toBe(false);
  });
});
