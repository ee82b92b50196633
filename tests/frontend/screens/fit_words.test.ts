import { describe, expect, it } from 'vitest';
import { viewOf } from '../../../frontend/src/domain/same_view';
import { keptSaid, notKept, viewSaid } from '../../../frontend/src/screens/same_view/fit_words';

const SIZE = [1600, 1200] as const;
/** Laid by a turn in degrees, how much larger it is, and a shift. */
function laid(turn_deg: number, percent: number, right = 0, residual_px = 0) {
  const angle = (-turn_deg * Math.PI) / 180;
  const scale = 1 / (1 + percent / 100);
  const [a, b] = [scale * Math.cos(angle), scale * Math.sin(angle)];
  const to_other = [a, -b, 800 + right - 800 * a + 600 * b, b, a, 600 - 800 * b - 600 * a, 0, 0, 1];
  return viewSaid(viewOf(to_other, SIZE, SIZE, residual_px));
}

describe('a fit in words', () => {
  it('that is good says so, and where the middle lies', () => {
    expect(laid(1.2, 0.8, 12, 0.6)).toEqual({
      head: 'turned 1.2° anticlockwise, 0.8 % smaller',
      good: true,
      verdict: 'Good enough to compare.',
      more: 'laid on the earlier picture, its middle 12.0 px right, 0.0 px down; rivets miss by 0.6 px',
    });
  });

  it('that is not says what to do with the tablet', () => {
    expect(laid(6, 0).verdict).toBe('Not good enough to compare. Turn the tablet 6.0° clockwise.');
    expect(laid(-6, 9).verdict).toBe(
      'Not good enough to compare. Turn the tablet 6.0° anticlockwise, go farther off.',
    );
    expect(laid(0, -9).verdict).toBe('Not good enough to compare. Go nearer.');
  });

  it('of rivets that do not lie alike is no good one', () => {
    const said = laid(0, 0, 0, 40);
    expect(said.good).toBe(false);
    expect(said.verdict).toContain('more than 2 % of the picture');
    expect(said.verdict).toContain('Touch them again.');
  });

  it('whose rivets miss by more than a careful touch can’t be kept, and says what to do', () => {
    const missing = (residual_px: number) =>
      notKept(viewOf([1, 0, 0, 0, 1, 0, 0, 0, 1], SIZE, SIZE, residual_px));
    expect(missing(812.4)).toBe('rivets miss:\ntouch them again');
    expect(missing(32.1)).toBe('rivets miss:\ntouch them again');
    expect([missing(32), missing(0), notKept(null)]).toEqual([undefined, undefined, undefined]);
  });

  it('that is kept says how it was made; one that can’t be read says nothing', () => {
    const fit = { turn_deg: '1.20', scale_percent: '0.80', residual_px: '0.6' };
    expect(keptSaid({ ...fit, by: 'three rivets' })?.more).toBe(
      'by three rivets, which miss by 0.6 px',
    );
    expect(keptSaid({ ...fit, by: 'registration' })?.more).toBe('laid by the server and accepted');
    expect(keptSaid({ by: 'three rivets' })).toBeNull();
    expect(keptSaid(null)).toBeNull();
  });
});
