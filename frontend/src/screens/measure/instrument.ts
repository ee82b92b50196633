import { isQuantity, tenthNmOrNull } from '../../domain/quantities';
import type { Json, Shop } from '../../services/shop';
import { dueWords } from '../airframe/day_parts';
import { type Looking, useLooking } from '../airframe/looking';
import { useLive } from '../live';
import type { Doubt } from './doubt';

/** Fields that are measured with an instrument of the book. */
const MEASURED = ['depth', 'hole_major', 'hole_minor'];

export interface InstrumentOfDay {
  looking: Looking;
  onLooking: (change: Partial<Looking>) => void;
  /** Whether it has still to be asked before a field is measured. */
  asks: (field: string | undefined) => boolean;
  /** "DG-1, in date to 2026-05-31"; "" for none. */
  words: string;
  /** Its accuracy, for a field measured with it; null where the book has none. */
  accuracy: (field: string) => Doubt | null;
  /** Puts the instrument to a figure measured with it. */
  measured: (field: string, value: Json) => Json;
}

/** The instrument picked for the day: asked once, before the first depth. */
export function useInstrument(shop: Shop): InstrumentOfDay {
  const [looking, onLooking] = useLooking(shop);
  const instruments = useLive(shop, () => shop.book.records('instrument'), []);
  const today = shop.today();
  const is_asked = looking.instrument_day === today;
  const name = is_asked ? looking.instrument : null;
  const one = instruments?.find((other) => other.name === name);
  return {
    looking,
    onLooking,
    asks: (field) =>
      MEASURED.includes(field ?? '') &&
      looking.is_read &&
      !is_asked &&
      (instruments?.length ?? 0) > 0,
    words: one ? `${one.name}, ${dueWords(String(one.due ?? ''), today)}` : '',
    accuracy: (field) => (one ? accuracyOf(one, field) : null),
    measured: (field, value) => {
      const is_figure = typeof value === 'object' && value !== null && !Array.isArray(value);
      if (!one || !is_figure || !MEASURED.includes(field)) return value;
      return { ...value, instrument: String(one.name), method: String(one.title ?? 'gauge') };
    },
  };
}

/** The accuracy that the book has of an instrument, for a field measured with it; null for none. */
export function accuracyOf(one: Readonly<Record<string, unknown>>, field: string): Doubt | null {
  const { accuracy, name } = one;
  if (!MEASURED.includes(field) || !isQuantity(accuracy)) return null;
  if ((tenthNmOrNull(accuracy) ?? 0n) <= 0n) return null;
  return { value: accuracy.value, unit: accuracy.unit, of: String(name) };
}
