import { describe, expect, it } from 'vitest';
import { apply, type Point } from '../../frontend/src/domain/photo_geometry';
import {
  fitOf,
  type Size,
  sameView,
  shownPoint,
  transformOf,
  viewOf,
} from '../../frontend/src/domain/same_view';
import vectors from '../vectors/same_view.json';

type Case = { here: number[][]; earlier: number[][]; size: number[]; earlier_size: number[] };
const of = (row: Case) =>
  sameView(
    row.here as unknown as Point[],
    row.earlier as unknown as Point[],
    row.size as unknown as Size,
    row.earlier_size as unknown as Size,
  );
const SIZE: Size = [1600, 1200];

describe('sameView', () => {
  it.each(vectors.cases)('gives back what a pair was laid by: $name', (row) => {
    const view = of(row);
    expect(view.turn_deg).toBeCloseTo(row.turn_deg, 4);
    expect(view.scale_percent).toBeCloseTo(row.scale_percent, 4);
    expect(view.shift_px[0]).toBeCloseTo(row.shift_px[0] as number, 4);
    expect(view.shift_px[1]).toBeCloseTo(row.shift_px[1] as number, 4);
    expect(view.residual_px).toBeLessThan(1e-4);
    expect([view.good, view.alike]).toEqual([row.good, true]);
  });

  it.each(vectors.refused)('refuses $name', (row) => {
    expect(() => of(row)).toThrow(expect.objectContaining({ code: row.code }));
  });

  it('tells rivets that do not lie alike', () => {
    const earlier: Point[] = [
      [400, 300],
      [1250, 340],
      [700, 980],
    ];
    const here: Point[] = [earlier[0] as Point, earlier[1] as Point, [700, 820]];
    expect(sameView(here, earlier, SIZE, SIZE).alike).toBe(false);
  });
});

describe('a kept fit', () => {
  it.each(vectors.cases)('lays the picture within a pixel of what was fitted: $name', (row) => {
    const view = of(row);
    for (const by of ['three rivets', 'registration'] as const) {
      const kept = transformOf(
        JSON.parse(JSON.stringify(fitOf(view, by))),
        row.size as unknown as Size,
        row.earlier_size as unknown as Size,
      );
      for (const corner of [[0, 0], row.size] as unknown as Point[]) {
        const [x, y] = apply(kept as number[], corner);
        const [u, v] = apply(view.to_other, corner);
        expect(Math.hypot(x - u, y - v)).toBeLessThan(1);
      }
    }
  });

  it('that cannot be read lays nothing', () => {
    const good = fitOf(viewOf([1, 0, 3, 0, 1, 4, 0, 0, 1], SIZE, SIZE), 'three rivets');
    expect(transformOf(good, SIZE, SIZE)?.[2]).toBeCloseTo(3);
    const broken = [null, {}, { ...good, turn_deg: 'x' }, { ...good, scale_percent: '-100' }];
    for (const one of [...broken, { ...good, shift_px: ['1'] }, { ...good, shift_px: '12' }])
      expect(transformOf(one, SIZE, SIZE)).toBeNull();
  });
});

describe('shownPoint', () => {
  it('turns left for right in a mirror', () => {
    expect(shownPoint([10, 20], 1600, true)).toEqual([1590, 20]);
    expect(shownPoint([10, 20], 1600, false)).toEqual([10, 20]);
  });
});
