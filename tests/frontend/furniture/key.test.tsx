// @vitest-environment happy-dom
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Key, KeyRow } from '../../../frontend/src/furniture/key.tsx';
import { cleared, drawn, keyOf, nameOf, press } from './dom.ts';

afterEach(cleared);

describe('a key', () => {
  it('is called by its words and its second line', () => {
    const box = drawn(<Key label={'TOUCH\nOFF'} second="ignore all" />);
    expect(nameOf(keyOf(box, 'TOUCH'))).toBe('TOUCH\nOFF ignore all');
  });

  it('is called by other words where its own say too little', () => {
    const box = drawn(<Key label="." spoken="point" />);
    expect(nameOf(keyOf(box, 'point'))).toBe('point');
  });

  it('acts when it is released', () => {
    const pressed = vi.fn();
    press(drawn(<Key label="AFT" onPress={pressed} />), 'AFT');
    expect(pressed).toHaveBeenCalledTimes(1);
  });

  it('that can’t be used says why, in its second line and to those who listen, and does nothing', () => {
    vi.useFakeTimers();
    const pressed = vi.fn();
    const box = drawn(
      <Key label="TO KEEL" second="K–B1" unavailable="at the keel" onPress={pressed} />,
    );
    const key = keyOf(box, 'TO KEEL');
    expect(key.querySelector('.key-second')?.textContent).toBe('at the keel');
    expect(key.getAttribute('aria-disabled')).toBe('true');
    // It stays in the order of tabs, so that its reason can be read.
    expect(key.disabled).toBe(false);
    press(box, 'TO KEEL');
    vi.runAllTimers();
    expect(pressed).not.toHaveBeenCalled();
    expect(document.querySelector('[role="status"]')?.textContent).toBe(
      'TO KEEL can’t be used now: at the keel.',
    );
    vi.useRealTimers();
  });

  it('of several says which is chosen', () => {
    const box = drawn(
      <KeyRow label="Hand">
        <Key label="Port" chosen />
        <Key label="Starboard" chosen={false} />
      </KeyRow>,
    );
    expect(keyOf(box, 'Port').getAttribute('aria-pressed')).toBe('true');
    expect(keyOf(box, 'Starboard').getAttribute('aria-pressed')).toBe('false');
    expect(box.querySelector('fieldset')?.getAttribute('aria-label')).toBe('Hand');
  });

  it('that is one by itself is no switch', () => {
    expect(keyOf(drawn(<Key label="UNDO" />), 'UNDO').hasAttribute('aria-pressed')).toBe(false);
  });
});
