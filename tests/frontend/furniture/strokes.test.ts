import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  arrowStrokes,
  chanceFrom,
  type Point,
  RING_WIDTH_SHARE,
  ringStroke,
} from '../../../frontend/src/furniture/strokes.ts';

const ENDS: Point[] = [
  { x: 100, y: 60 },
  { x: 300, y: 60 },
];

describe('a wax-pencil ring', () => {
  it('is the same stroke for the same seed and another for another', () => {
    expect(ringStroke(ENDS, 17).d).toBe(ringStroke(ENDS, 17).d);
    expect(ringStroke(ENDS, 17).d).not.toBe(ringStroke(ENDS, 18).d);
  });

  it('goes once round and 25° to 35° further, for any seed', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const { sweep_deg, points } = ringStroke(ENDS, seed);
        expect(sweep_deg).toBeGreaterThanOrEqual(385);
        expect(sweep_deg).toBeLessThanOrEqual(395);
        expect(turnedDeg(points, { x: 200, y: 60 })).toBeCloseTo(sweep_deg, 6);
      }),
    );
  });

  it('wanders by no more than 3 % of its radius', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        for (const { x, y } of ringStroke(ENDS, seed).points) {
          const radius = Math.hypot((x - 200) / 100, (y - 60) / (100 * RING_WIDTH_SHARE));
          expect(Math.abs(radius - 1)).toBeLessThanOrEqual(0.03 + 1e-9);
        }
      }),
    );
  });

  it('overlaps its own start without meeting it', () => {
    const { points } = ringStroke(ENDS, 5);
    const end = points.at(-1) as Point;
    for (const point of points.slice(0, 6))
      expect(Math.hypot(end.x - point.x, end.y - point.y)).toBeGreaterThan(1);
  });

  it('takes its half-width from a third point, whichever side it lies', () => {
    const above = ringStroke([...ENDS, { x: 180, y: 20 }], 3);
    const below = ringStroke([...ENDS, { x: 260, y: 100 }], 3);
    expect(above.d).toBe(below.d);
    const heights = above.points.map((point) => point.y);
    expect(Math.max(...heights) - Math.min(...heights)).toBeCloseTo(80, -1);
  });

  it('lies along a slanting axis', () => {
    const run = ringStroke(
      [
        { x: 0, y: 0 },
        { x: 60, y: 80 },
      ],
      9,
    ).points;
    const along = run.map((point) => point.x * 0.6 + point.y * 0.8);
    expect(Math.min(...along)).toBeCloseTo(0, -1);
    expect(Math.max(...along)).toBeCloseTo(100, -1);
  });

  it('refuses a ring of one point and says what it needs', () => {
    expect(() => ringStroke([{ x: 1, y: 1 }], 1)).toThrow(/two ends of its long axis; 1 points/);
  });
});

describe('a wax-pencil arrow', () => {
  it('ends its two strokes on the tip', () => {
    const { shaft, head } = arrowStrokes({ x: 10, y: 10 }, { x: 90, y: 40 }, 4, 18);
    expect(shaft).toMatch(/^M10\.0 10\.0Q.* 90\.0 40\.0$/);
    expect(head).toContain('L90.0 40.0L');
  });
});

describe('numbers from a seed', () => {
  it('stay between 0 and 1 and repeat', () => {
    const [one, other] = [chanceFrom(42), chanceFrom(42)];
    const row = Array.from({ length: 50 }, one);
    expect(row).toEqual(Array.from({ length: 50 }, other));
    expect(row.every((number) => number >= 0 && number < 1)).toBe(true);
    expect(new Set(row).size).toBe(50);
  });
});

/** Angle through which a run of points turns about a centre, in the ring's own circle. */
function turnedDeg(points: Point[], centre: Point): number {
  const angles = points.map((point) =>
    Math.atan2((point.y - centre.y) / (100 * RING_WIDTH_SHARE), (point.x - centre.x) / 100),
  );
  let turned = 0;
  angles.slice(1).forEach((angle, at) => {
    const step = angle - (angles[at] as number);
    turned += step < -Math.PI ? step + 2 * Math.PI : step > Math.PI ? step - 2 * Math.PI : step;
  });
  return (turned * 180) / Math.PI;
}
