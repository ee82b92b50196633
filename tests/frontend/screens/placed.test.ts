import { describe, expect, it } from 'vitest';
import {
  markAt,
  nudged,
  resized,
  shapeOf,
  turned,
} from '../../../frontend/src/screens/photograph/placed';

const WIDE = { width_px: 1600, height_px: 900 };

describe('a mark while it is placed', () => {
  it('comes round the touched point, a sixth of the picture to each side', () => {
    const shape = shapeOf(markAt('ring', { x: 700, y: 310 }, WIDE));
    expect(shape.points).toEqual([
      [4330, 3100],
      [9670, 3100],
      [7000, 1440],
    ]);
  });

  it('is stored in whole tenths of a pixel however it was turned and sized', () => {
    const mark = turned(resized(markAt('line', { x: 333.3, y: 222.2 }, WIDE), 1.15, WIDE));
    expect(shapeOf(mark).points.flat().every(Number.isInteger)).toBe(true);
  });

  it('never leaves the picture by steps', () => {
    const mark = nudged(markAt('dot', { x: 1590, y: 5 }, WIDE), 40, -20, WIDE);
    expect([mark.x, mark.y]).toEqual([1600, 0]);
  });

  it('keeps its shape when it is made larger, and stops at half the picture', () => {
    const mark = markAt('ring', { x: 700, y: 310 }, WIDE);
    const large = resized(mark, 100, WIDE);
    expect(large.long).toBe(800);
    expect(large.short / large.long).toBeCloseTo(mark.short / mark.long, 6);
  });

  it('points an arrow at the touched point', () => {
    const { points } = shapeOf(markAt('arrow', { x: 700, y: 310 }, WIDE));
    expect(points[1]).toEqual([7000, 3100]);
    expect(points[0]).toEqual([1660, 3100]);
  });
});
