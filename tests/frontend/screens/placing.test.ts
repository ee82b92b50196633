import { describe, expect, it } from 'vitest';
import {
  NOTHING_PLACED,
  nudged,
  onTheSpot,
  other,
  stepAfter,
  tapOf,
  tenths,
  touched,
  without,
} from '../../../frontend/src/screens/measuring/placing';

const SIZE = { width_px: 1600, height_px: 1200 };
const SMALL = { screen_px: 1, copy_px: 1 };
const spot = (x: number, y: number, grain = SMALL) => ({ x, y, grain });
const two = (grain = SMALL) =>
  touched(touched(NOTHING_PLACED, spot(10, 20, grain), 2), spot(30.26, 40.04, grain), 2);

describe('placing points', () => {
  it('each touch is a further point until the shape has all of its own', () => {
    expect(two().points.map(({ x }) => x)).toEqual([10, 30.26]);
    const moved = touched(two(), spot(50, 60), 2);
    expect(moved.points.map(({ x }) => x)).toEqual([10, 50]);
  });

  it('a point picked again is the one that the next touch moves', () => {
    const open = touched(touched(NOTHING_PLACED, spot(1, 1), 9), spot(2, 2), 9);
    const moved = touched(other(open), spot(7, 7), 9);
    expect(moved.points.map(({ x }) => x)).toEqual([7, 2]);
    expect(touched(moved, spot(9, 9), 9).points).toHaveLength(2);
  });

  it('steps move the point, never off the picture', () => {
    const { points } = nudged(two(), 5000, -5000, SIZE);
    expect(points[1]).toEqual({ ...spot(1600, 0), fine: false });
    expect(nudged(NOTHING_PLACED, 1, 1, SIZE)).toBe(NOTHING_PLACED);
  });

  it('the error is that of a finger until every point was seen in the loupe', () => {
    const first = onTheSpot(other(two()));
    expect(tapOf(first.points)).toBe('1.5');
    expect(tapOf(nudged(other(first), 1, 0, SIZE).points)).toBe('0.6');
    expect(tapOf(touched(nudged(other(first), 1, 0, SIZE), spot(3, 3), 2).points)).toBe('1.5');
  });

  it('a step of ten pixels is not seen in the loupe, and takes the point off its spot', () => {
    const on = onTheSpot(touched(NOTHING_PLACED, spot(50, 60), 2));
    expect(tapOf(nudged(on, 0, 1, SIZE).points)).toBe('0.6');
    expect(tapOf(nudged(on, -10, 0, SIZE).points)).toBe('1.5');
  });

  it('the error of a finger grows with the px of the original under one of the screen', () => {
    // 1.5 px of the screen and the rounding to whole px, 1/√12: JCGM 100 (GUM), 4.3.7.
    const large = { screen_px: 9.2, copy_px: 1 };
    expect(tapOf(two(large).points)).toBe('14.1');
    expect(tapOf(two({ screen_px: 3.7, copy_px: 1 }).points)).toBe('5.7');
    expect(tapOf(two({ screen_px: 0.4, copy_px: 1 }).points)).toBe('1.5');
    const one = onTheSpot(other(two(large)));
    expect(tapOf(one.points)).toBe('14.1');
    expect(tapOf(onTheSpot(other(one)).points)).toBe('0.6');
  });

  it('the loupe shows nothing finer than the copy that is shown', () => {
    const coarse = onTheSpot(
      touched(NOTHING_PLACED, spot(9, 9, { screen_px: 5, copy_px: 2.5 }), 2),
    );
    expect(tapOf(coarse.points)).toBe('1.5');
  });

  it('steps of a hundred px are there where the picture is far larger than the screen', () => {
    const round = (width_px: number) =>
      [1, 10, 100].map((step) => stepAfter(step, { ...SIZE, width_px }));
    expect(round(1600)).toEqual([10, 1, 1]);
    expect(round(8000)).toEqual([10, 100, 1]);
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
