// @vitest-environment happy-dom
import { useState } from 'preact/hooks';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type PadUnit, type Typed, typedAfter } from '../../../frontend/src/furniture/figures.ts';
import { NumberPad, type NumberPadProps } from '../../../frontend/src/furniture/pad.tsx';
import { cleared, drawn, keyOf, nameOf, press, type } from './dom.ts';

afterEach(cleared);

const next = vi.fn();

/** A pad that writes into one cell, as on the sheet. */
function Cell(props: Partial<NumberPadProps>) {
  const [typed, setTyped] = useState<Typed>({ value: '', unit: 'in', not_measured: false });
  const act = (step: Parameters<typeof typedAfter>[1]) => setTyped(typedAfter(typed, step));
  return (
    <>
      <p class="cell">
        {typed.value}
        {typed.doubt !== undefined && ` ± ${typed.doubt}`} {typed.unit}
      </p>
      <NumberPad
        value={typed.value}
        unit={typed.unit}
        onFigure={(figure) => act({ act: 'figure', figure })}
        onRubOut={() => act({ act: 'rub out' })}
        onUnit={(unit: PadUnit) => act({ act: 'unit', unit })}
        onNotMeasured={() => undefined}
        onNext={next}
        onUndo={() => undefined}
        onTouchOff={() => undefined}
        next="cleaned"
        undo="last answer"
        doubt_key={
          Number(typed.value) > 0
            ? { active: typed.at_doubt === true, second: 'how sure' }
            : undefined
        }
        onDoubt={() => act({ act: 'doubt' })}
        {...props}
      />
    </>
  );
}

const cell = (box: Element) => box.querySelector('.cell')?.textContent;
const said = (box: Element) => box.querySelector('output')?.textContent;

describe('the number pad', () => {
  it('types what its keys show, and says it', () => {
    const box = drawn(<Cell />);
    for (const key of ['0', 'point', '0', '1', '7']) press(box, key);
    expect(cell(box)).toBe('0.017 in');
    expect(said(box)).toBe('0.017 in');
    press(box, 'RUB OUT');
    press(box, 'mm');
    expect(cell(box)).toBe('0.01 mm');
  });

  it('starts a depth with one touch', () => {
    const box = drawn(<Cell />);
    press(box, '0.0');
    press(box, '1');
    press(box, '2');
    expect(cell(box)).toBe('0.012 in');
  });

  it('hears the keyboard as its own keys', () => {
    const box = drawn(<Cell />);
    for (const key of ['4', '.', '5', 'Backspace', '6']) type(key);
    expect(cell(box)).toBe('4.6 in');
    next.mockClear();
    type('Enter');
    expect(next).toHaveBeenCalledTimes(1);
  });

  it('puts ± where NOT MEASURED stood once there is a figure, one key for the other', () => {
    const box = drawn(<Cell />);
    press(box, '0.0');
    expect(() => keyOf(box, 'plus or minus')).toThrow('No key');
    press(box, '8');
    expect(() => keyOf(box, 'NOT')).toThrow('No key');
    press(box, 'plus or minus');
    press(box, '0.0');
    press(box, '1');
    expect(cell(box)).toBe('0.08 ± 0.01 in');
    expect(box.querySelectorAll('button').length).toBe(19);
  });

  it('hears + of the keyboard as ±, a second one not as the way back', () => {
    const box = drawn(<Cell />);
    for (const key of ['4', '+', '+', '1']) type(key);
    expect(cell(box)).toBe('4 ± 1 in');
  });

  it('leaves what is typed into a field to the field', () => {
    const box = drawn(
      <>
        <input aria-label="note" />
        <Cell />
      </>,
    );
    type('4', box.querySelector('input') as HTMLInputElement);
    expect(cell(box)).toBe(' in');
  });

  it('has a name on every key, and no two alike', () => {
    const box = drawn(<Cell units={['in', 'mm', 'SWG']} />);
    const names = [...box.querySelectorAll('button')].map(nameOf);
    expect(names.filter((name) => name === '')).toEqual([]);
    expect(new Set(names).size).toBe(names.length);
    expect(names.length).toBe(19);
  });

  it('gives SWG the place of the key that starts a depth', () => {
    const box = drawn(<Cell units={['in', 'mm', 'SWG']} />);
    expect(() => keyOf(box, '0.0')).toThrow('No key');
    press(box, 'SWG');
    expect(cell(box)).toBe(' SWG');
  });

  it('says of a key why it can’t be used', () => {
    const box = drawn(
      <Cell unavailable={{ undo: 'nothing to undo', not_measured: 'for depths' }} />,
    );
    expect(keyOf(box, 'UNDO').textContent).toBe('UNDO nothing to undo');
    expect(keyOf(box, 'NOT').textContent).toContain('for depths');
  });
});
