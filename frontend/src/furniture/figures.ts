export type PadUnit = 'in' | 'mm' | 'SWG';

/** What a person has typed so far; text, exactly as typed. */
export interface Typed {
  value: string;
  unit: PadUnit;
  not_measured: boolean;
}

export type PadAct =
  | { act: 'figure'; figure: string }
  | { act: 'rub out' }
  | { act: 'unit'; unit: PadUnit }
  | { act: 'not measured' }
  | { act: 'clear' };

const LONGEST = 9;

/** The typed value after one key of the pad. Nothing is rounded and no figure is added. */
export function typedAfter(typed: Typed, act: PadAct): Typed {
  switch (act.act) {
    case 'figure':
      return { ...typed, value: withFigure(typed.value, act.figure), not_measured: false };
    case 'rub out':
      return { ...typed, value: typed.value.slice(0, -1), not_measured: false };
    case 'unit':
      return { ...typed, unit: act.unit };
    case 'not measured':
      return { ...typed, value: '', not_measured: !typed.not_measured };
    case 'clear':
      return { ...typed, value: '', not_measured: false };
  }
}

function withFigure(value: string, figure: string): string {
  if (figure === '0.0') return value === '' || value === '0' || value === '0.' ? '0.0' : value;
  if (figure === '.') {
    if (value.includes('.')) return value;
    return value === '' ? '0.' : `${value}.`;
  }
  if (value.length >= LONGEST) return value;
  return value === '0' ? figure : value + figure;
}

/** The pad's act for a key of the keyboard, or nothing. */
export function actOfKeyboard(key: string): PadAct | { act: 'next' } | undefined {
  if (/^[0-9]$/.test(key)) return { act: 'figure', figure: key };
  if (key === '.' || key === ',') return { act: 'figure', figure: '.' };
  if (key === 'Backspace') return { act: 'rub out' };
  if (key === 'Enter') return { act: 'next' };
  return undefined;
}
