// @vitest-environment happy-dom
import { render } from 'preact';
import { useState } from 'preact/hooks';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type Typed, typedAfter } from '../../../frontend/src/furniture/figures.ts';
import { NumberPad } from '../../../frontend/src/furniture/pad.tsx';
import { PasscodePad } from '../../../frontend/src/screens/frame/passcode.tsx';
import { cleared } from './dom.ts';

afterEach(cleared);

/** Draws as a page does: effects wait for the next painting. */
function shown(children: preact.ComponentChildren): HTMLElement {
  const box = document.createElement('div');
  document.body.append(box);
  render(children, box);
  return box;
}

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));

async function typed(keys: string[], apart_ms: number) {
  for (const key of keys) {
    document.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
    await pause(apart_ms);
  }
}

function Cell({ onNext }: { onNext: () => void }) {
  const [now, setNow] = useState<Typed>({ value: '', unit: 'in', not_measured: false });
  const nothing = () => undefined;
  return (
    <>
      <p class="cell">{now.value}</p>
      <NumberPad
        {...{ value: now.value, unit: 'in', next: 'cleaned', undo: 'last', onNext }}
        onFigure={(figure) => setNow(typedAfter(now, { act: 'figure', figure }))}
        onRubOut={() => setNow(typedAfter(now, { act: 'rub out' }))}
        {...{ onUnit: nothing, onNotMeasured: nothing, onUndo: nothing, onTouchOff: nothing }}
      />
    </>
  );
}

function Passcode({ onDone }: { onDone: (value: string) => void }) {
  const [value, setValue] = useState('');
  return (
    <PasscodePad
      {...{ label: 'SIGN IN', value, back: 'another name', onChange: setValue }}
      onDone={() => onDone(value)}
      onBack={() => undefined}
    />
  );
}

describe('figures of the keyboard', () => {
  it.each([0, 20])(
    'typed %i ms apart all count on the number pad, from the first on',
    async (apart) => {
      const next = vi.fn();
      const box = shown(<Cell onNext={next} />);
      await typed([...'0.017', 'Enter'], apart);
      await pause(30);
      expect(box.querySelector('.cell')?.textContent).toBe('0.017');
      expect(next).toHaveBeenCalledTimes(1);
    },
  );

  it.each([0, 20])('typed %i ms apart are the whole passcode', async (apart) => {
    const done = vi.fn();
    shown(<Passcode onDone={done} />);
    await typed([...'482913', 'Enter'], apart);
    expect(done).toHaveBeenCalledWith('482913');
  });
});
