import { describe, expect, it } from 'vitest';
import {
  actOfKeyboard,
  type PadAct,
  type Typed,
  typedAfter,
} from '../../../frontend/src/furniture/figures.ts';

const NOTHING: Typed = { value: '', unit: 'in', not_measured: false };

function typing(figures: string[], from: Typed = NOTHING): Typed {
  return figures.reduce<Typed>(
    (typed, figure) => typedAfter(typed, { act: 'figure', figure }),
    from,
  );
}

describe('the number pad', () => {
  it('keeps figures exactly as typed, closing noughts too', () => {
    expect(typing(['0', '.', '0', '1', '1', '0']).value).toBe('0.0110');
  });

  it('starts a depth with 0.0 and leaves a begun value alone', () => {
    expect(typing(['0.0', '1', '1']).value).toBe('0.011');
    expect(typing(['4', '0.0']).value).toBe('4');
    // In millimetres tenths are typed next.
    expect(typing(['0.', '1']).value).toBe('0.1');
    expect(typing(['4', '0.']).value).toBe('4');
    expect(typing(['0', '.', '0.0']).value).toBe('0.0');
  });

  it('takes one point only, and puts a nought before a bare one', () => {
    expect(typing(['.', '5', '.', '2']).value).toBe('0.52');
  });

  it('writes no leading nought before a whole figure', () => {
    expect(typing(['0', '7']).value).toBe('7');
  });

  it('holds no more figures than its cell', () => {
    expect(typing([...'123456789', '8']).value).toBe('123456789');
  });

  it('rubs out one figure at a time, and nothing from nothing', () => {
    const typed = typing(['4', '.', '5']);
    expect(typedAfter(typed, { act: 'rub out' }).value).toBe('4.');
    expect(typedAfter(NOTHING, { act: 'rub out' }).value).toBe('');
  });

  it('changes the unit without touching the figures', () => {
    const typed = typedAfter(typing(['2', '5']), { act: 'unit', unit: 'mm' });
    expect(typed).toEqual({ value: '25', unit: 'mm', not_measured: false });
  });

  it('takes not measured as a value, and a figure takes it back', () => {
    const none = typedAfter(typing(['3']), { act: 'not measured' });
    expect(none).toEqual({ value: '', unit: 'in', not_measured: true });
    expect(typing(['6'], none)).toEqual({ value: '6', unit: 'in', not_measured: false });
    expect(typedAfter(none, { act: 'not measured' }).not_measured).toBe(false);
  });

  it('leads from a figure to its ±, and what is typed then is the ±', () => {
    const at = typedAfter(typing(['0', '.', '3', '8']), { act: 'doubt' });
    const both = typing(['0.0', '2'], at);
    expect(both).toMatchObject({ value: '0.38', doubt: '0.02', at_doubt: true });
    const back = typing(['1'], typedAfter(both, { act: 'doubt' }));
    expect(back).toMatchObject({ value: '0.381', doubt: '0.02', at_doubt: false });
  });

  it('rubs the ± out figure by figure, then says that there is none, then leads back', () => {
    const steps = [typing(['2'], typedAfter(typing(['7']), { act: 'doubt' }))];
    for (let at = 0; at < 3; at += 1)
      steps.push(typedAfter(steps.at(-1) as Typed, { act: 'rub out' }));
    expect(steps.map(({ value, doubt, at_doubt }) => [value, doubt, at_doubt])).toEqual([
      ['7', '2', true],
      ['7', '', true],
      ['7', '', undefined],
      ['', undefined, undefined],
    ]);
  });

  it('drops the ± with its figure', () => {
    const both = typing(['2'], typedAfter(typing(['7']), { act: 'doubt' }));
    expect(typedAfter(both, { act: 'not measured' })).toEqual({ ...NOTHING, not_measured: true });
    expect(typedAfter(both, { act: 'clear' })).toEqual(NOTHING);
  });

  it('clears to nothing typed', () => {
    expect(typedAfter(typing(['9']), { act: 'clear' })).toEqual(NOTHING);
  });
});

describe('the keyboard as a pad', () => {
  const cases: [string, PadAct | { act: 'next' } | undefined][] = [
    ['8', { act: 'figure', figure: '8' }],
    [',', { act: 'figure', figure: '.' }],
    ['+', { act: 'doubt' }],
    ['Backspace', { act: 'rub out' }],
    ['Enter', { act: 'next' }],
    ['e', undefined],
    ['F5', undefined],
  ];
  it.each(cases)('reads %s', (key, act) => {
    expect(actOfKeyboard(key)).toEqual(act);
  });
});
