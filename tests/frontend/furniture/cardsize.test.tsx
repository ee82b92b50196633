// @vitest-environment happy-dom
import { useState } from 'preact/hooks';
import { afterEach, describe, expect, it } from 'vitest';
import { CardSize, cardStep, targetInside } from '../../../frontend/src/furniture/cardsize.tsx';
import { cleared, drawn, press } from './dom.ts';

afterEach(cleared);

function Card({ first }: { first: number }) {
  const [px_per_mm, setSize] = useState(first);
  return (
    <CardSize
      px_per_mm={px_per_mm}
      onChange={setSize}
      onKeep={() => undefined}
      onLeave={() => undefined}
    />
  );
}

const widthOf = (box: Element) => Number(box.querySelector('rect')?.getAttribute('width'));

describe('keys sized by a bank card', () => {
  it('are 20 mm on the glass whatever the screen', () => {
    // A 10-inch screen of 1280 × 800 has 5.9 px in a millimetre, a finer one more.
    expect(targetInside(5.9)).toBe(118);
    expect(targetInside(7.42)).toBe(149);
    for (const px_per_mm of [4.1, 5.9, 8.37])
      expect(targetInside(px_per_mm) / px_per_mm).toBeGreaterThanOrEqual(20);
  });

  it('never fall below a usual key, nor grow past the sheet', () => {
    expect(targetInside(2.5)).toBe(72);
    expect(targetInside(14)).toBe(220);
  });

  it('are set by bringing the drawn card to the one on the glass: ID-1 is 85.60 mm wide', () => {
    const box = drawn(<Card first={6} />);
    expect(widthOf(box)).toBeCloseTo(85.6 * 6, 6);
    press(box, 'LARGER by 12 px');
    press(box, 'SMALLER by 1 px');
    expect(widthOf(box)).toBeCloseTo(85.6 * 6 + 11, 6);
    expect(box.textContent).toContain('6.13 px');
  });

  it('stop at the sizes that screens have', () => {
    expect(cardStep(2.5, -12)).toBe(2.5);
    expect(cardStep(14, 12)).toBe(14);
  });
});
