import { describe, expect, it } from 'vitest';
import type { Point } from '../../../frontend/src/domain/photo_geometry';
import { refuseTurned, sidesOf, turned } from '../../../frontend/src/screens/measuring/sides';

const PICTURE = { width_px: 4000, height_px: 3000 };
const CARD = [85.6, 53.98] as const;

/** Corners of a card as a pinhole camera 300 mm away sees them, tilted about an axis in its plane;
worked out here by turning and dividing, not by a homography. */
function seen(tilt_deg: number, axis_deg: number, roll_deg: number, focal_share: number): Point[] {
  const [tilt, axis, roll] = [tilt_deg, axis_deg, roll_deg].map((one) => (one * Math.PI) / 180);
  const [c, s] = [Math.cos(axis as number), Math.sin(axis as number)];
  return (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([right, down]): Point => {
    const [x, y] = [(right * CARD[0]) / 2, (down * CARD[1]) / 2];
    const [along, across] = [c * x + s * y, -s * x + c * y];
    const [flat, depth] = [across * Math.cos(tilt as number), across * Math.sin(tilt as number)];
    const [u, v] = [c * along - s * flat, s * along + c * flat];
    const [cr, sr] = [Math.cos(roll as number), Math.sin(roll as number)];
    const by = (focal_share * PICTURE.width_px) / (300 + depth);
    return [2000 + (cr * u - sr * v) * by, 1500 + (sr * u + cr * v) * by];
  });
}

const from = (corners: Point[], start: number) =>
  corners.map((_, at) => corners[(at + start) % 4] as Point);

const posed = (tilts: number[], focals: number[]) =>
  tilts.flatMap((tilt) =>
    [0, 45, 90, 160].flatMap((axis) =>
      [0, 35, 90, 200].flatMap((roll) => focals.map((focal) => [tilt, axis, roll, focal])),
    ),
  ) as [number, number, number, number][];

describe('which way round a card was touched', () => {
  it.each([...posed([0, 15, 30, 45], [0.6, 0.72, 1.4, 2.2, 3.6]), ...posed([60], [0.6, 0.72])])(
    'tilt %i° about %i°, turned %i°, focal length %f of the width',
    (...view) => {
      const corners = seen(...view);
      for (const start of [0, 2])
        expect(sidesOf(from(corners, start), CARD, PICTURE).turned).toBe(false);
      for (const start of [1, 3]) {
        expect(sidesOf(from(corners, start), CARD, PICTURE).turned).toBe(true);
        expect(turned(from(corners, start))).toEqual(from(corners, (start + 1) % 4));
      }
    },
  );

  it('from nearly in front it is sure, very much from the side through a long lens never', () => {
    const sure = posed([0, 15], [0.6, 0.72, 1.4, 2.2]).map((view) => seen(...view));
    for (const corners of sure) expect(sidesOf(corners, CARD, PICTURE).sure).toBe(true);
    const wrong = posed([60, 65], [1.4, 2.2])
      .map((view) => sidesOf(seen(...view), CARD, PICTURE))
      .filter(({ turned }) => turned);
    expect(wrong.length).toBeGreaterThan(0);
    expect(wrong.filter(({ sure }) => sure)).toEqual([]);
  });

  it('going round the other way it is told as well', () => {
    const round = [...seen(20, 30, 10, 0.72)].reverse();
    expect(sidesOf(round, CARD, PICTURE).turned).toBe(false);
    expect(sidesOf(from(round, 1), CARD, PICTURE).turned).toBe(true);
  });

  it('four rivets across the row first are refused; those of like pitches never are', () => {
    const corners = seen(20, 30, 10, 0.72);
    expect(() => refuseTurned(sidesOf(corners, CARD, PICTURE))).not.toThrow();
    expect(() => refuseTurned(sidesOf(from(corners, 1), CARD, PICTURE))).toThrow(
      expect.objectContaining({ code: 'turned_corners' }),
    );
    const square: Point[] = [
      [1000, 1000],
      [1500, 1000],
      [1500, 1500],
      [1000, 1500],
    ];
    expect(() => refuseTurned(sidesOf(from(square, 1), [20, 20], PICTURE))).not.toThrow();
    expect(() => refuseTurned(sidesOf(from(square, 1), [25.4, 20], PICTURE))).not.toThrow();
  });
});
