import { describe, expect, it } from 'vitest';
import { keepExchanging } from '../../../frontend/src/services/rounds';
import type { Exchange } from '../../../frontend/src/services/shop';

function scene(isEnrolled = true) {
  let sent = 0;
  let visible = true;
  let away = false;
  const acts: Record<string, () => void> = {};
  const exchange = {
    sendNow: async () => {
      sent += 1;
      return { away };
    },
  } as unknown as Exchange;
  const keep = (when: string) => (act: () => void) => {
    acts[when] = act;
  };
  const page = {
    isVisible: () => visible,
    onNetwork: keep('network'),
    onVisible: keep('visible'),
    every: (ms: number, act: () => void) => keep(`${ms}`)(act),
    soon: (ms: number, act: () => void) => keep(`in ${ms}`)(act),
  };
  keepExchanging(() => (isEnrolled ? exchange : null), keep('written'), page);
  const hide = (isHidden: boolean) => {
    visible = !isHidden;
  };
  const lose = (isLost: boolean) => {
    away = isLost;
  };
  return { acts, hide, lose, sent: () => sent };
}

describe('keepExchanging', () => {
  it('meets the server at the start, when back in reach or sight, and every 30 seconds', () => {
    const { acts, sent } = scene();
    expect(sent()).toBe(1);
    for (const when of ['network', 'visible', '30000']) acts[when]?.();
    expect(sent()).toBe(4);
  });

  it('leaves the battery alone while nobody sees the page', () => {
    const { acts, hide, sent } = scene();
    hide(true);
    for (const when of ['visible', '30000']) acts[when]?.();
    expect(sent()).toBe(1);
    hide(false);
    acts.visible?.();
    expect(sent()).toBe(2);
  });

  it('sends soon after something was written, once for a burst', () => {
    const { acts, sent } = scene();
    for (let n = 0; n < 5; n += 1) acts.written?.();
    expect(sent()).toBe(1);
    acts['in 1000']?.();
    expect(sent()).toBe(2);
  });

  it('asks less often by the timer while the server is away, and at once by everything else', async () => {
    const { acts, lose, sent } = scene();
    const beats = async (count: number) => {
      const before = sent();
      for (let n = 0; n < count; n += 1) {
        acts['30000']?.();
        await new Promise((done) => setTimeout(done));
      }
      return sent() - before;
    };
    lose(true);
    expect(await beats(2)).toBe(2);
    expect(await beats(2)).toBe(1);
    expect(await beats(12)).toBe(3);
    const before = sent();
    for (const when of ['network', 'visible', 'in 1000']) acts[when]?.();
    acts.written?.();
    acts['in 1000']?.();
    expect(sent()).toBe(before + 3);
    lose(false);
    acts.network?.();
    await new Promise((done) => setTimeout(done));
    expect(await beats(5)).toBe(5);
  });

  it('does nothing before the browser is enrolled', () => {
    expect(scene(false).sent()).toBe(0);
  });
});
