import { useEffect, useState } from 'preact/hooks';
import { gaugeInches } from '../../domain/gauge';
import { parseTyped } from '../../domain/quantities';
import { type PadAct, type Typed, typedAfter } from '../../furniture';
import type { Json, Shop } from '../../services/shop';
import type { Asked } from './asked';
import { type Doubt, doubtOf, quietly, secondOf, shownOf } from './doubt';

export interface TypedPad {
  typed: Typed;
  /** What is typed as a value to judge by; null while it is none. */
  quantity: Json | null;
  /** Whether a key was pressed since the field was opened, or before a restart. */
  is_touched: boolean;
  /** Second line of the cell: the gauge in inches, or where a figure comes from. */
  second: string | undefined;
  /** The figure as its cell shows it, with its ±. */
  shown: string;
  act: (act: PadAct) => void;
  /** The value to store; null where nothing was typed. Throws a Refusal with a sentence. */
  read: () => Json | null;
  /** Takes the figure off the pad; what was typed is kept until `clear`. */
  leave: () => void;
  clear: () => Promise<void>;
}

const EMPTY: Typed = { value: '', unit: 'in', not_measured: false };

/**
 * Keystrokes of the active field, kept through reload and restart until they are answered.
 * `offered` is a figure to start from: the thickness on the drawing. `accuracy` is that of the
 * instrument it is measured with: the ± of a figure for which none is typed.
 */
export function useTyped(
  shop: Shop,
  record: string,
  active: Asked | null,
  offered: string | null,
  unit: 'in' | 'mm',
  accuracy: Doubt | null = null,
): TypedPad {
  const name = `measure/${record}/${active?.field ?? ''}`;
  // Named by its field: a key pressed the moment a field opens is that field's, and stays.
  const [held, setHeld] = useState<{ name: string; typed: Typed } | null>(null);
  const { session } = shop;
  const typed = held?.name === name ? held.typed : { ...EMPTY, unit, value: offered ?? '' };
  const setTyped = (next: Typed) => setHeld({ name, typed: next });
  useEffect(() => {
    if (!session || !active) return;
    shop.drafts.read(session, name).then(
      (kept) =>
        kept &&
        setHeld((now) => (now?.name === name ? now : { name, typed: kept as unknown as Typed })),
      () => undefined,
    );
  }, [shop, name, session?.person]);
  const act = (step: PadAct) => {
    // The first key replaces a figure that was only offered.
    const untouched = offered !== null && typed.value === offered;
    const next = typedAfter(untouched ? { ...typed, value: '' } : typed, step);
    setTyped(next);
    if (session) void shop.drafts.write(session, name, { ...next } as unknown as Json);
  };
  const is_drawn = offered !== null && typed.value === offered && typed.unit !== 'SWG';
  const read = () => {
    if (!active || typed.value === '') return null;
    const value = storedValue(active, typed);
    // A figure taken from the drawing stays known as one: nobody measured it.
    if (is_drawn) return { ...(value as Record<string, Json>), method: 'drawing figure' };
    const doubt = doubtOf(active, typed, accuracy);
    return doubt ? { ...(value as Record<string, Json>), uncertainty: { ...doubt } } : value;
  };
  return {
    typed,
    quantity: quietly(read),
    is_touched: typed.value !== '' && typed.value !== offered,
    second: secondOf(typed, is_drawn, accuracy),
    shown: active && !is_drawn ? shownOf(active, typed, accuracy) : typed.value,
    act,
    read,
    leave: () => setHeld(null),
    clear: async () => {
      if (session) await shop.drafts.clear(session, name);
    },
  };
}

function storedValue(active: Asked, typed: Typed): Json {
  const text = typed.value.replace(/\.$/, '');
  if (active.type === 'whole') return Number.parseInt(text, 10);
  if (active.type === 'percent') return text;
  if (typed.unit === 'SWG') return { value: gaugeInches(text), unit: 'in', method: `${text} SWG` };
  return { ...parseTyped(text, typed.unit) } as unknown as Json;
}
