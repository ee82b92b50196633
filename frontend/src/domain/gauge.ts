/** Sheet gauges: an aid at entry that writes inches, so that inches always show. */

import gauges from '@tables/gauge.json';
import { Refused } from './errors';

export type Gauge = keyof typeof gauges;

/** The thickness in inches of a gauge number: 16 SWG is 0.064, 16 B&S 0.051. */
export function gaugeInches(number: number | string, gauge: Gauge = 'SWG'): string {
  const table: Record<string, string> = gauges[gauge].inches;
  const key = String(number).trim();
  const inches = Object.hasOwn(table, key) ? table[key] : undefined;
  if (inches !== undefined) return inches;
  const [first, last] = [Object.keys(table)[0], Object.keys(table).at(-1)];
  throw new Refused(
    'no_such_gauge',
    `There is no ${gauge} ${number}; the table has ${first} to ${last}.`,
    'Type the thickness in inches or millimetres.',
  );
}

/** The gauge number that has just this thickness, written in any number of figures. */
export function gaugeOf(inches: string, gauge: Gauge = 'SWG'): string | null {
  const plain = (size: string) => size.replace(/0+$/, '');
  const rows = Object.entries<string>(gauges[gauge].inches);
  return rows.find(([, size]) => plain(size) === plain(inches))?.[0] ?? null;
}
