/** When two values that stand are one: the same length typed differently, the same state. */

import { fieldOf } from './fields';
import { isUnmeasured, tenthNmOrNull } from './quantities';
import { type Fields, isFields } from './verdicts';

/** Standing values by entry: {entry id: {field: value}}. */
export type Values = Readonly<Record<string, Fields>>;

/** What two values of a field must share to be one value. */
export function sameness(kind: string, field: string, value: unknown): string {
  const word = fieldOf(kind, field)?.type ?? '';
  if (word === 'state' && isFields(value)) return JSON.stringify(['state', value.to ?? null]);
  if (word === 'percent' && typeof value === 'string')
    return JSON.stringify(['percent', short(value)]);
  return JSON.stringify(plain(value));
}

function plain(value: unknown): unknown {
  const length = tenthNmOrNull(value);
  if (length !== null) return ['length', String(length)];
  if (isFields(value))
    return [
      'fields',
      ...Object.keys(value)
        .sort()
        .map((key) => [key, plain(value[key])]),
    ];
  if (Array.isArray(value)) return ['list', ...value.map(plain)];
  return value === undefined ? null : value;
}

function short(decimal: string): string {
  return decimal.includes('.') ? decimal.replace(/0+$/, '').replace(/\.$/, '') : decimal;
}

/** The values of a field by entry, in the order of the ids. */
function valuesIn(values: Values, field: string): unknown[] {
  const ids = Object.keys(values).sort();
  const holding = ids.filter((id) => Object.hasOwn(values[id] as Fields, field));
  return holding.map((id) => (values[id] as Fields)[field]);
}

/** The values of a field that stand, by entry id; null is no value. */
export function standingOf(values: Values, field: string): unknown[] {
  return valuesIn(values, field).filter((value) => value !== null);
}

/** Leaves out of several values the figures that were only copied; where all were, none is. */
export function withoutHints<V>(values: V[], read: (one: V) => unknown = (one) => one): V[] {
  const own = values.filter((one) => !isUnmeasured(read(one)));
  return own.length > 0 ? own : values;
}

/**
 * The values of a field that differ from each other, null among them. A figure copied from
 * another record is none beside one that was measured.
 */
export function differing(kind: string, values: Values, field: string): unknown[] {
  const found = new Map<string, unknown>();
  for (const value of withoutHints(valuesIn(values, field))) {
    const key = sameness(kind, field, value);
    if (!found.has(key)) found.set(key, value);
  }
  return [...found.values()];
}

/** The fields in which nothing stands but a figure copied from another record. */
export function copiedIn(kind: string, values: Values): string[] {
  const all = Object.values(values).flatMap((one) => Object.entries(one));
  const fields = new Set(all.filter(([, value]) => isUnmeasured(value)).map(([field]) => field));
  return [...fields].sort().filter((field) => differing(kind, values, field).every(isUnmeasured));
}

/** The value of a field where only one stands, else null. */
export function settledValue(kind: string, values: Values, field: string): unknown {
  const found = differing(kind, values, field);
  return found.length === 1 ? found[0] : null;
}

/** The fields of which several values stand that differ. */
export function twoValues(kind: string, values: Values): string[] {
  const fields = new Set(Object.values(values).flatMap((one) => Object.keys(one)));
  return [...fields].sort().filter((field) => differing(kind, values, field).length > 1);
}

/** Puts Stage 2 before Stage 10. */
export function byNature(a: string, b: string): number {
  const [some, others] = [a, b].map((text) => text.match(/[0-9]+|[^0-9]+/g) ?? []);
  for (const [at, part] of (some ?? []).entries()) {
    const other = others?.[at];
    if (other === undefined) return 1;
    const order = byPart(part, other);
    if (order !== 0) return order;
  }
  return (some?.length ?? 0) - (others?.length ?? 0);
}

function byPart(a: string, b: string): number {
  const [one, two] = [a, b].map((part) => /^[0-9]/.test(part));
  if (one !== two) return one ? -1 : 1;
  const [x = '', y = ''] = one ? [a, b].map((part) => part.replace(/^0+/, '')) : [a, b];
  if (one && x.length !== y.length) return x.length - y.length;
  return x < y ? -1 : x > y ? 1 : 0;
}
