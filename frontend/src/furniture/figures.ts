export type PadUnit = 'in' | 'mm' | 'SWG';

/** What a person has typed so far; text, exactly as typed. */
export interface Typed {
  value: string;
  unit: PadUnit;
  not_measured: boolean;
  /** The ± behind the value, as typed; "" where it was rubbed out, nothing where none was asked. */
  doubt?: string | undefined;
  /** Figures go to the ± now. */
  at_doubt?: boolean | undefined;
}

export type PadAct =
  | { act: 'figure'; figure: string }
  | { act: 'rub out' }
  | { act: 'unit'; unit: PadUnit }
  | { act: 'not measured' }
  /** To the ±, and back to the figure. */
  | { act: 'doubt' }
  | { act: 'clear' };

const LONGEST = 9;

/** The typed value after one key of the pad. Nothing is rounded and no figure is added. */
export function typedAfter(typed: Typed, act: PadAct): Typed {
  switch (act.act) {
    case 'doubt':
      return { ...typed, at_doubt: !typed.at_doubt };
    case 'figure':
      if (typed.at_doubt) return { ...typed, doubt: withFigure(typed.doubt ?? '', act.figure) };
      return { ...typed, value: withFigure(typed.value, act.figure), not_measured: false };
    case 'rub out':
      return rubbedOut(typed);
    case 'unit':
      return { ...typed, unit: act.unit };
    case 'not measured':
      return { ...NOTHING, unit: typed.unit, not_measured: !typed.not_measured };
    case 'clear':
      return { ...NOTHING, unit: typed.unit };
  }
}

const NOTHING = { value: '', not_measured: false };

/** Without its last figure; a ± with none left is taken off, then the figure is rubbed again. */
function rubbedOut({ doubt, at_doubt, ...typed }: Typed): Typed {
  if (at_doubt && doubt !== '') return { ...typed, at_doubt, doubt: (doubt ?? '').slice(0, -1) };
  const value = at_doubt ? typed.value : typed.value.slice(0, -1);
  const kept = value === '' || doubt === undefined ? {} : { doubt };
  return { ...typed, ...kept, value, not_measured: false };
}

function withFigure(value: string, figure: string): string {
  if (figure === '0.0') return value === '' || value === '0' || value === '0.' ? '0.0' : value;
  if (figure === '0.') return value === '' || value === '0' ? '0.' : value;
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
  if (key === '+' || key === '±') return { act: 'doubt' };
  if (key === 'Backspace') return { act: 'rub out' };
  if (key === 'Enter') return { act: 'next' };
  return undefined;
}
