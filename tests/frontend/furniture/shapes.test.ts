import { describe, expect, it } from 'vitest';
import { GRADE_SHAPE, OPEN_SHAPE } from '../../../frontend/src/furniture/shapes.ts';

/** Straight corners of a closed outline: places where no arc joins. */
function sharpCorners(d: string): number {
  const steps = d.match(/[MLHVAZ][^MLHVAZ]*/g) ?? [];
  const kinds = steps.map((step) => step[0]).filter((kind) => kind !== 'Z' && kind !== 'M');
  if (kinds.every((kind) => kind !== 'A')) return kinds.length + 1;
  const ring = [...kinds, kinds[0]];
  return ring.slice(1).filter((kind, at) => kind !== 'A' && ring[at] !== 'A').length;
}

describe('grade marks', () => {
  it('count the grade by their sharp corners: one, three and four', () => {
    expect(sharpCorners(GRADE_SHAPE[1])).toBe(1);
    expect(sharpCorners(GRADE_SHAPE[3])).toBe(3);
    expect(sharpCorners(GRADE_SHAPE[4])).toBe(4);
  });

  it('give grade 2 its two points where its arcs meet at an angle, grade 0 none', () => {
    const arcs = (d: string) => d.match(/A[^A-Z]+/g) ?? [];
    expect(arcs(GRADE_SHAPE[2])).toHaveLength(2);
    // The lens: radius above half the chord of 44, so its arcs are no half circles.
    expect(GRADE_SHAPE[2]).toContain('A23.63 23.63 0 0 1 46 24');
    expect(GRADE_SHAPE[0]).toContain('A17 17 0 1 1 24 41');
  });

  it('close a known grade and leave the bottom of an unknown one open', () => {
    for (const shape of Object.values(GRADE_SHAPE)) expect(shape.endsWith('Z')).toBe(true);
    for (const shape of Object.values(OPEN_SHAPE)) expect(shape.includes('Z')).toBe(false);
  });
});
