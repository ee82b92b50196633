// @vitest-environment happy-dom
import { afterEach, describe, expect, it } from 'vitest';
import { AngleSymbol } from '../../../frontend/src/furniture/angle.tsx';
import { TitleBlock } from '../../../frontend/src/furniture/title.tsx';
import { cleared, drawn } from './dom.ts';

afterEach(cleared);

/** x of the cone's small end and of the circles. */
function places(box: Element): { cone: number; circles: number } {
  const cone = Number(/^M(\d+)/.exec(box.querySelector('path')?.getAttribute('d') ?? '')?.[1]);
  return { cone, circles: Number(box.querySelector('circle')?.getAttribute('cx')) };
}

describe('the sign of the angle of projection', () => {
  // ISO 5456-2 (from memory): seen from its small end, which lies left, the cone's view stands
  // right of it in first-angle projection and left of it in third-angle projection.
  it('has the circles right of the cone in first-angle, left in third-angle projection', () => {
    const first = places(drawn(<AngleSymbol angle="first" />));
    expect(first.circles).toBeGreaterThan(first.cone);
    const third = places(drawn(<AngleSymbol angle="third" />));
    expect(third.circles).toBeLessThan(third.cone);
  });

  it('is said in words, and stands in the title block of a sheet with sections', () => {
    const box = drawn(<TitleBlock variant="airframe" cells={[]} angle="third" />);
    expect(box.querySelector('[aria-label="Third-angle projection"]')).not.toBeNull();
    const plain = drawn(<TitleBlock variant="airframe" cells={[]} />);
    expect(plain.querySelector('svg')).toBeNull();
  });
});
