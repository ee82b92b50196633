import { describe, expect, it } from 'vitest';
import type { Point, Transform } from '../../frontend/src/domain/photo_geometry';
import * as geometry from '../../frontend/src/domain/photo_geometry';
import vectors from '../vectors/photo_geometry.json';

interface Row {
  fit: string;
  sources: number[][];
  targets: number[][];
  mirrored?: boolean;
}

function fitted(row: Row): Transform {
  const [sources, targets] = [row.sources as unknown as Point[], row.targets as unknown as Point[]];
  if (row.fit === 'similarity') return geometry.fitSimilarity(sources, targets, row.mirrored);
  return row.fit === 'affine'
    ? geometry.fitAffine(sources, targets)
    : geometry.fitHomography(sources, targets);
}

function expectClose(are: readonly number[], told: readonly number[], least = 1e-12): void {
  expect(are.length).toBe(told.length);
  for (const [at, one] of told.entries()) {
    const off = Math.abs((are[at] as number) - one);
    expect(off, `${are[at]} is ${one}`).toBeLessThanOrEqual(Math.max(least, 1e-9 * Math.abs(one)));
  }
}

describe('photo_geometry', () => {
  it.each(vectors.cases)('$name', (row) => {
    const transform = fitted(row as Row);
    expectClose(transform, row.transform);
    expectClose(geometry.inverse(transform), row.inverse);
    const [sources, targets] = [
      row.sources as unknown as Point[],
      row.targets as unknown as Point[],
    ];
    expectClose([geometry.residualRms(transform, sources, targets)], [row.residual_rms], 1e-9);
    expect(geometry.isMirrored(transform)).toBe(row.is_mirrored);
    for (const one of row.applied) {
      expectClose(geometry.apply(transform, one.from as unknown as Point), one.to);
    }
  });

  it.each(vectors.refused)('$name is refused', (row) => {
    expect(() => fitted(row)).toThrow(expect.objectContaining({ code: row.code }));
  });

  it.each(vectors.conditions)('the spread of $name', (row) => {
    expectClose([geometry.condition(row.points as unknown as Point[])], [row.condition]);
  });

  it('what lies beyond the horizon has no place', () => {
    const tilted = [1, 0, 0, 0, 1, 0, -0.01, 0, 1];
    expect(geometry.apply(tilted, [50, 0])).toEqual([100, 0]);
    expect(() => geometry.apply(tilted, [101, 0])).toThrow(
      expect.objectContaining({ code: 'beyond_horizon' }),
    );
  });

  it('a transform that presses all on a line has no way back', () => {
    expect(() => geometry.inverse([1, 1, 0, 2, 2, 0, 0, 0, 1])).toThrow(
      expect.objectContaining({ code: 'collinear_points' }),
    );
  });
});
