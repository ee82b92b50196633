// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { useComparing } from '../../../frontend/src/screens/same_view/comparing.ts';
import { cleared, drawn, press } from '../furniture/dom.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleared();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function asks(still: boolean) {
  vi.stubGlobal('matchMedia', (asked: string) => ({
    matches: still && asked.includes('prefers-reduced-motion'),
  }));
}

function Two() {
  const comparing = useComparing('blink');
  return (
    <>
      <output>{`${comparing.shown} ${comparing.still ?? ''}`}</output>
      <button type="button" onClick={comparing.swap}>
        SWAP
      </button>
      <button type="button" onClick={comparing.turn}>
        BY ITSELF
      </button>
    </>
  );
}

const later = (ms: number) => act(() => void vi.advanceTimersByTime(ms));
const shown = (box: HTMLElement) => box.querySelector('output')?.textContent?.trim();

describe('blink', () => {
  it('goes there and back once a second', async () => {
    asks(false);
    const box = drawn(<Two />);
    await later(0);
    const seen = [];
    for (let step = 0; step < 4; step += 1) {
      await later(500);
      seen.push(shown(box));
    }
    expect(seen).toEqual(['earlier', 'here', 'earlier', 'here']);
  });

  it('stops where somebody swaps by the key, and goes on when asked', async () => {
    asks(false);
    const box = drawn(<Two />);
    press(box, 'SWAP');
    await later(2_000);
    expect(shown(box)).toBe('earlier');
    press(box, 'BY ITSELF');
    await later(500);
    expect(shown(box)).toBe('here');
  });

  it('never goes by itself where less motion is asked for', async () => {
    asks(true);
    const box = drawn(<Two />);
    press(box, 'BY ITSELF');
    press(box, 'BY ITSELF');
    await later(5_000);
    expect(shown(box)).toBe('here less motion asked');
    press(box, 'SWAP');
    expect(shown(box)).toBe('earlier less motion asked');
  });
});
