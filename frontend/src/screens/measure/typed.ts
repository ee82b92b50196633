import { useEffect, useState } from 'preact/hooks';
import { gaugeInches, parseTyped } from '../../domain/quantities';
import { type PadAct, type Typed, typedAfter } from '../../furniture';
import type { DefectRow, Definition, Json, Shop } from '../../services/shop';
import type { Asked } from './asked';

export interface TypedPad {
  typed: Typed;
  /** What is typed as a value to judge by; null while it is none. */
  quantity: Json | null;
  /** Second line of the cell: the gauge in inches, or where a figure comes from. */
  second: string | undefined;
  act: (act: PadAct) => void;
  /** The value to store; null where nothing was typed. Throws a Refusal with a sentence. */
  read: () => Json | null;
  clear: () => Promise<void>;
}

const EMPTY: Typed = { value: '', unit: 'in', not_measured: false };

/** Keystrokes of the active field, kept through reload and restart until they are answered. */
export function useTyped(
  shop: Shop,
  record: string,
  active: Asked | null,
  values: Record<string, Json>,
  definition: Definition | null,
): TypedPad {
  const name = `measure/${record}/${active?.field ?? ''}`;
  const [typed, setTyped] = useState<Typed>(EMPTY);
  const { session } = shop;
  useEffect(() => {
    const unit = definition?.unit === 'mm' ? 'mm' : 'in';
    setTyped({ ...EMPTY, unit });
    if (!session || !active) return;
    shop.drafts.read(session, name).then(
      (kept) => kept && setTyped(kept as unknown as Typed),
      () => undefined,
    );
  }, [shop, name, session?.person]);
  const act = (step: PadAct) => {
    const next = typedAfter(typed, step);
    setTyped(next);
    if (session) void shop.drafts.write(session, name, { ...next });
  };
  const read = () => (active && typed.value !== '' ? valueOf(active, typed) : null);
  return {
    typed,
    quantity: quietly(read),
    second: typed.unit === 'SWG' ? swgWords(typed.value) : undefined,
    act,
    read,
    clear: async () => {
      setTyped({ ...EMPTY, unit: typed.unit === 'SWG' ? 'in' : typed.unit });
      if (session) await shop.drafts.clear(session, name);
    },
  };
}

function valueOf(active: Asked, typed: Typed): Json {
  const text = typed.value.replace(/\.$/, '');
  if (active.type === 'whole') return Number.parseInt(text, 10);
  if (active.type === 'percent') return text;
  if (typed.unit === 'SWG') return { value: gaugeInches(text), unit: 'in' };
  return { ...parseTyped(text, typed.unit) } as unknown as Json;
}

function swgWords(value: string): string {
  const inches = quietly(() => gaugeInches(value));
  return inches === null ? 'no such gauge' : `${inches} in`;
}

function quietly<T>(read: () => T): T | null {
  try {
    return read();
  } catch {
    return null;
  }
}
