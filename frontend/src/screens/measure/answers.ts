import { useRef, useState } from 'preact/hooks';
import { refuseFigures } from '../../domain/grading';
import { isLoss } from '../../domain/kinds';
import type { DefectRow, Json, RefusalShape, ScreenProps } from '../../services/shop';
import { type Trouble, useTroubleInOrder } from '../frame/trouble';
import { troubleOf } from '../frame/words';
import { useLive } from '../live';
import { type Asked, askingOrder, isOpen, nextOpen } from './asked';
import type { Doubt } from './doubt';
import { askedFor, type Graded, gradedOf, materialAsked, useLinked } from './graded';
import { type TypedPad, useTyped } from './typed';

/** Pages of the key area that are no field: what else was seen, the tag, the last keys. */
export type Page = 'also' | 'tag' | 'raise';
const PAGES: readonly string[] = ['also', 'tag', 'raise'];

/** A record being measured: what is asked, what is answered, and what is typed just now. */
export interface Answers {
  values: Record<string, Json>;
  asked: Asked[];
  active: Asked | null;
  page: Page | null;
  pad: TypedPad;
  graded: Graded;
  trouble: Trouble | null;
  run: (work: () => Promise<void>) => Promise<void>;
  /** What NEXT leads to: "cleaned". */
  next_words: string;
  write: (set: Record<string, Json>) => void;
  answer: (one: Asked, value: Json) => void;
  none: (one: Asked) => void;
  /** NEXT of the pad: stores what is typed, or passes the field by. */
  next: () => void;
  skip: (one: Asked) => void;
  type: (act: Parameters<TypedPad['act']>[0]) => void;
  /** Stores what was typed, then opens a field or page; null: another sheet, the airframe's if none. */
  leaveFor: (next: string | null, address?: string) => Promise<void>;
  /** What would change on a raised record and waits for its reason; null: nothing. */
  correcting: Record<string, Json> | null;
  /** Writes it for a reason; null: leaves it as it was. */
  correct: (why: string | null) => void;
}

export interface Offered {
  /** Figure of the drawing for the thickness that is asked. */
  thickness: string | null;
  unit: 'in' | 'mm';
  /** Accuracy of the instrument that a field is measured with. */
  accuracy: (field: string) => Doubt | null;
  /** Puts to a typed figure what it was measured with. */
  measured: (field: string, value: Json) => Json;
}

/** The answers of one record; each is stored the moment it is given. */
export function useAnswers({ shop, go }: ScreenProps, row: DefectRow, offered: Offered): Answers {
  const { session } = shop;
  const stored = useLive(shop, () => shop.book.plain(row.record), [row.record]) ?? {};
  const [coming, setComing] = useState<Record<string, Json>>({});
  const values = { ...stored, ...coming };
  const linked = useLinked(shop, row.record);
  const { trouble, run, setTrouble } = useTroubleInOrder();
  const [chosen, setChosen] = useState<string | null>(null);
  const asked = [...materialAsked(values, shop.standard), ...askedFor(values)];
  const order = askingOrder(asked, isLoss(String(values.kind ?? '')));
  const active = activeOf(order, values, chosen);
  const is_thickness = active?.field === 'thickness' && isOpen(values.thickness);
  const pad = useTyped(
    shop,
    row.record,
    active,
    is_thickness ? offered.thickness : null,
    offered.unit,
    active && offered.accuracy(active.field),
  );
  const [correcting, setCorrecting] = useState<Record<string, Json> | null>(null);
  const unsaid = useRef(false);
  /** Stores fields; on a raised record the reason is asked for first. */
  const store = async (set: Record<string, Json>, why?: string) => {
    if (!session) return;
    try {
      await shop.capture.setFields(session, row.record, set, why);
    } catch (error) {
      if ((error as Partial<RefusalShape>).code !== 'no_reason') throw error;
      unsaid.current = true;
      // What waits for its reason does not stand: the sheet shows the old figure beside it.
      setComing((before) => without(before, Object.keys(set)));
      setCorrecting(set);
    }
  };
  const after = (field: string) => nextOpen(order, values, field)?.field ?? 'raise';
  /**
   * Moves on at once and stores meanwhile, so that what is typed next is typed where it belongs;
   * a refusal comes back to the field, where the figure as typed still is.
   */
  const keep = (one: Asked, value: Json | null, next: string | null) => {
    pad.leave();
    setChosen(next);
    if (value !== null) setComing((before) => ({ ...before, [one.field]: value }));
    return run(async () => {
      try {
        if (value !== null) await store({ [one.field]: value });
        await pad.clear();
      } catch (error) {
        setChosen(one.field);
        throw error;
      } finally {
        setComing((before) => without(before, [one.field]));
      }
    });
  };
  /** The figure on the pad, null where there is none; undefined after a refusal was said. */
  const readOrSay = (): Json | null | undefined => {
    try {
      const value = pad.read();
      if (!active || value === null) return null;
      refuseFigures({ ...values, [active.field]: value });
      return offered.measured(active.field, value);
    } catch (error) {
      setTrouble(troubleOf(error));
      return undefined;
    }
  };
  return {
    ...{ values, asked, active, pad, trouble, run },
    page: active ? null : PAGES.includes(chosen ?? '') ? (chosen as Page) : 'raise',
    graded: withTyped(
      gradedOf(
        values,
        active,
        pad.quantity,
        shop.standard,
        linked,
        shop.device?.letter ? 'on this tablet' : 'in this browser',
      ),
      active,
      pad,
    ),
    next_words: active ? wordsOf(asked, after(active.field)) : '',
    write: (set) => void run(() => store(set)),
    none: (one) => void keep(one, 'not measured', after(one.field)),
    // Nothing is typed after a choice, so it is stored before the next question comes.
    answer: (one, value) =>
      void run(async () => {
        if (value !== undefined) await store({ [one.field]: value });
        setChosen(after(one.field));
      }),
    next: () => {
      const value = readOrSay();
      if (active && value !== undefined) void keep(active, value, after(active.field));
    },
    skip: (one) => setChosen(after(one.field)),
    type: (act) => {
      setTrouble(null);
      pad.act(act);
    },
    leaveFor: async (next, address = '/airframe') => {
      if (active && pad.is_touched) {
        const value = readOrSay();
        if (value === undefined) return;
        await keep(active, value, next ?? chosen);
      } else if (next !== null) setChosen(next);
      // What waits for its reason is not left behind.
      if (next === null && !unsaid.current) go(address);
    },
    correcting,
    correct: (why) =>
      void run(async () => {
        if (why !== null && correcting) await store(correcting, why);
        unsaid.current = false;
        setCorrecting(null);
      }),
  };
}

function without(values: Record<string, Json>, fields: readonly string[]): Record<string, Json> {
  return Object.fromEntries(Object.entries(values).filter(([field]) => !fields.includes(field)));
}

/** What is lacking is not said of a figure that is being typed and can't be read as it stands. */
function withTyped(graded: Graded, active: Asked | null, pad: TypedPad): Graded {
  const is_unread = active !== null && pad.is_touched && pad.quantity === null;
  if (!is_unread || graded.grading === null) return graded;
  const missing_words = `${active.label}: graded once ${pad.shown} can be read.`;
  return { ...graded, missing_words };
}

/** The field that is open: the one chosen, else the first that is needed and has no value. */
function activeOf(
  order: readonly Asked[],
  values: Record<string, Json>,
  chosen: string | null,
): Asked | null {
  if (chosen === null) return nextOpen(order, values, null);
  return order.find((one) => one.field === chosen) ?? null;
}

function wordsOf(asked: readonly Asked[], field: string): string {
  if (field === 'raise') return 'raise it';
  return (asked.find((one) => one.field === field)?.label ?? '').toLowerCase();
}
