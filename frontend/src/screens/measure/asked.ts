import {
  copiedFrom,
  figureText,
  isUnmeasured,
  isWithdrawn,
  type Quantity,
  unmeasuredWords,
} from '../../domain/quantities';
import type { Json } from '../../services/shop';

/** A field that a kind asks for, as the pad and the table need it. */
export interface Asked {
  field: string;
  label: string;
  type: 'quantity' | 'percent' | 'whole' | 'word' | 'yes_no';
  choices?: readonly string[];
  /** What choices are called, where they are codes. */
  choice_words?: Readonly<Record<string, string>>;
  /** Gauge numbers may be typed. */
  gauge?: boolean;
  /** The grade does not wait for it: NEXT passes it by, it is answered with what else was seen. */
  optional?: boolean;
}

/** What stands of a field, in words: value, unit and second line of its cell. */
export function cellWords(
  asked: Asked,
  value: Json | undefined,
  other: (quantity: { value: string; unit: 'in' | 'mm' }) => string,
): { value: string; unit?: string; second?: string; hint?: boolean; struck?: boolean } {
  if (value === undefined || value === null) return { value: '–', second: 'not asked yet' };
  if (value === 'not measured') return { value: 'not measured' };
  if (asked.type === 'yes_no') return { value: value === true ? 'yes' : 'no' };
  if (typeof value === 'object' && 'value' in value && 'unit' in value) {
    const quantity = value as unknown as Quantity;
    const { uncertainty, method, unit } = quantity;
    const text = figureText(quantity);
    const of = uncertainty?.of ? `± of ${uncertainty.of}` : undefined;
    if (isWithdrawn(quantity))
      return { value: text, second: unmeasuredWords(quantity), hint: true, struck: true };
    const source = copiedFrom(quantity);
    if (source) return { value: text, second: `as ${source}, not measured here`, hint: true };
    const second = of ?? method?.replace('drawing figure', 'drawing') ?? other(quantity);
    // The unit stands once, small, behind figures that share it.
    return text.endsWith(` ${unit}`)
      ? { value: text.slice(0, -unit.length - 1), unit, second }
      : { value: text, second };
  }
  const words = asked.choice_words?.[String(value)] ?? String(value);
  return asked.type === 'percent' ? { value: words, unit: '%' } : { value: words };
}

/** What the grade of lost metal hangs on: these are asked before length and width. */
const FIRST = ['material', 'thickness', 'depth', 'cleaned'];

/** Fields in the order in which NEXT goes through them. */
export function askingOrder(asked: readonly Asked[], is_loss: boolean): Asked[] {
  if (!is_loss) return [...asked];
  const first = FIRST.flatMap((field) => asked.find((one) => one.field === field) ?? []);
  return [...first, ...asked.filter((one) => !FIRST.includes(one.field))];
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

/** Whether a field still has to be answered: a figure that was only copied is no answer. */
export function isOpen(value: Json | undefined): boolean {
  return value === undefined || value === null || isUnmeasured(value);
}

/** What else was seen, in few words: "blistered", "nothing said". */
export function alsoWords(asked: readonly Asked[], values: Record<string, Json>): string {
  const said = asked.filter((one) => one.optional && !isOpen(values[one.field]));
  const seen = said.flatMap((one) => seenWords(one, values[one.field]) ?? []);
  if (seen.length > 0) return seen.join(', ');
  return said.length > 0 ? 'nothing more' : 'not asked yet';
}

function seenWords({ field, label, type }: Asked, value: Json | undefined): string | null {
  if (type === 'yes_no') return value === true ? (SHORT[field] ?? label.toLowerCase()) : null;
  if (type === 'percent') return `${value} %`;
  if (type === 'quantity') return quantityText(value);
  return `${label.toLowerCase()} ${value}`;
}

function quantityText(value: Json | undefined): string {
  return figureText(value) || String(value);
}

const SHORT: Readonly<Record<string, string>> = {
  blistered: 'blistered',
  highly_stressed: 'highly stressed',
  shank_rusted: 'shank rusted',
};
