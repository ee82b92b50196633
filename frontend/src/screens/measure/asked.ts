import type { Json } from '../../services/shop';

/** A field that a kind asks for, as the pad and the table need it. */
export interface Asked {
  field: string;
  label: string;
  type: 'quantity' | 'percent' | 'whole' | 'word' | 'yes_no';
  choices?: readonly string[];
  /** Gauge numbers may be typed. */
  gauge?: boolean;
  /** The grade does not wait for it: NEXT passes it by, a touch on its cell opens it. */
  optional?: boolean;
}

/** What stands of a field, in words: value, unit and second line of its cell. */
export function cellWords(
  asked: Asked,
  value: Json | undefined,
  other: (quantity: { value: string; unit: 'in' | 'mm' }) => string,
): { value: string; unit?: string; second?: string } {
  if (value === undefined || value === null) return { value: '–', second: 'not asked yet' };
  if (value === 'not measured') return { value: 'not measured' };
  if (asked.type === 'yes_no') return { value: value === true ? 'yes' : 'no' };
  if (typeof value === 'object' && 'value' in value && 'unit' in value) {
    const quantity = value as { value: string; unit: 'in' | 'mm'; method?: string };
    const second = quantity.method ?? other(quantity);
    return { value: quantity.value, unit: quantity.unit, second };
  }
  return asked.type === 'percent' ? { value: String(value), unit: '%' } : { value: String(value) };
}

/** Field after this one that is needed and has no value yet; none: the last is answered. */
export function nextOpen(
  asked: readonly Asked[],
  values: Record<string, Json>,
  after: string | null,
): Asked | null {
  const at = after === null ? -1 : asked.findIndex((one) => one.field === after);
  return asked.slice(at + 1).find((one) => !one.optional && isOpen(values[one.field])) ?? null;
}

function isOpen(value: Json | undefined): boolean {
  return value === undefined || value === null;
}
