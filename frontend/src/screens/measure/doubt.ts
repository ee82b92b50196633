import { Refused } from '../../domain/errors';
import { gaugeInches } from '../../domain/gauge';
import { parseTyped } from '../../domain/quantities';
import type { Typed } from '../../furniture';
import type { Asked } from './asked';

/** What a figure is sure to, and whose figure that is where nobody typed it. */
export type Doubt = { value: string; unit: 'in' | 'mm'; of?: string };

/** The ± that is stored: what was typed, else the instrument's; null for none. */
export function doubtOf(
  { type }: Pick<Asked, 'type'>,
  typed: Typed,
  accuracy: Doubt | null,
): Doubt | null {
  const { doubt, unit } = typed;
  if (type !== 'quantity' || unit === 'SWG' || doubt === '') return null;
  if (doubt === undefined) return accuracy;
  const { value } = parseTyped(doubt.replace(/\.$/, ''), unit);
  if (Number(value) > 0) return { value, unit };
  throw new Refused(
    'not_a_figure',
    `± ${doubt} ${unit} says that the figure is exact, and none is.`,
    'Type how far off it may be, or rub the ± out.',
  );
}

/** "0.38 ± 0.02" as it is being typed. */
export function shownOf(
  { type }: Pick<Asked, 'type'>,
  typed: Typed,
  accuracy: Doubt | null,
): string {
  const { value, unit, doubt, at_doubt } = typed;
  if (type !== 'quantity' || unit === 'SWG' || value === '') return value;
  if (doubt !== undefined && doubt !== '') return `${value} ± ${doubt}`;
  const own = doubt === undefined && accuracy?.unit === unit ? accuracy.value : '';
  if (own) return `${value} ± ${own}`;
  return at_doubt ? `${value} ± …` : value;
}

/** Second line of the cell: the gauge in inches, or where the figure or its ± comes from. */
export function secondOf(
  typed: Typed,
  is_drawn: boolean,
  accuracy: Doubt | null,
): string | undefined {
  const { value, unit, doubt } = typed;
  if (unit === 'SWG') return swgWords(value);
  if (is_drawn) return 'drawing figure';
  if (value === '' || doubt === '') return undefined;
  if (doubt !== undefined) return 'k = 2';
  if (!accuracy) return undefined;
  return accuracy.unit === unit
    ? `± of ${accuracy.of}`
    : `± ${accuracy.value} ${accuracy.unit}, of ${accuracy.of}`;
}

function swgWords(value: string): string {
  const inches = quietly(() => gaugeInches(value));
  return inches === null ? 'no such gauge' : `${inches} in`;
}

/** What is read, null where it was refused. */
export function quietly<T>(read: () => T): T | null {
  try {
    return read();
  } catch {
    return null;
  }
}
