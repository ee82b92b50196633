import { describe, expect, it } from 'vitest';
import {
  NOTHING_PLACED,
  nudged,
  onTheSpot,
  other,
  tapOf,
  tenths,
  touched,
  without,
} from '../../../frontend/src/screens/measuring/placing';

const SIZE = { width_px: 1600, height_px: 1200 };
const two = () => touched(touched(NOTHING_PLACED, { x: 10, y: 20 }, 2), { x: 30.26, y: 40.04 }, 2);

describe('placing points', () => {
  it('each touch is a further point until the shape has all of its own', () => {
    expect(two().points.map(({ x }) => x)).toEqual([10, 30.26]);
    const moved = touched(two(), { x: 50, y: 60 }, 2);
    expect(moved.points.map(({ x }) => x)).toEqual([10, 50]);
  });

  it('a point picked again is the one that the next touch moves', () => {
    const open = touched(touched(NOTHING_PLACED, { x: 1, y: 1 }, 9), { x: 2, y: 2 }, 9);
    const moved = touched(other(open), { x: 7, y: 7 }, 9);
    expect(moved.points.map(({ x }) => x)).toEqual([7, 2]);
    expect(touched(moved, { x: 9, y: 9 }, 9).points).toHaveLength(2);
  });

  it('steps move the point, never off the picture', () => {
    const { points } = nudged(two(), 5000, -5000, SIZE);
    expect(points[1]).toEqual({ x: 1600, y: 0, fine: false });
    expect(nudged(NOTHING_PLACED, 1, 1, SIZE)).toBe(NOTHING_PLACED);
  });

  it('the error is that of a finger until every point was seen in the loupe', () => {
    const first = onTheSpot(other(two()));
    expect(tapOf(first.points)).toBe('1.5');
    expect(tapOf(nudged(other(first), 1, 0, SIZE).points)).toBe('0.6');
    expect(tapOf(touched(nudged(other(first), 1, 0, SIZE), { x: 3, y: 3 }, 2).points)).toBe('1.5');
  });

  it('a step of ten pixels is not seen in the loupe, and takes the point off its spot', () => {
    const spot = onTheSpot(touched(NOTHING_PLACED, { x: 50, y: 60 }, 2));
    expect(tapOf(nudged(spot, 0, 1, SIZE).points)).toBe('0.6');
    expect(tapOf(nudged(spot, -10, 0, SIZE).points)).toBe('1.5');
  });

  it('is stored in whole tenths of a pixel, and the last point is taken off first', () => {
    expect(tenths(two().points)).toEqual([
      [100, 200],
      [303, 400],
    ]);
    expect(without(two()).points).toHaveLength(1);
    expect(without(without(two()))).toEqual(NOTHING_PLACED);
  });
});
