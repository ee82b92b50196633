import type { Place, Structure } from '../../domain/place';

/** The marks of a hull by the strake lines that run along them. */
const MARKS: Record<string, string> = { K: 'KEEL', C: 'CHINE', G: 'GUNWALE', CL: 'DECK' };

/**
 * What the keys across a structure lead to, by its own first and last line: "TO KEEL", "TO S-9".
 * On a hull the way out leads to the chine until that is reached.
 */
export function acrossWords({ strakes }: Structure, place: Place): [inner: string, outer: string] {
  const [first, last] = [strakes[0], strakes.at(-1)];
  if (first === undefined || last === undefined) return ['STRAKE IN', 'STRAKE OUT'];
  const wordOf = (name: string) => (first === 'K' && MARKS[name]) || name;
  const chine = first === 'K' ? strakes.indexOf('C') : -1;
  const is_below = strakes.indexOf(place.strakes?.at(-1) ?? first) < chine;
  return [`TO ${wordOf(first)}`, `TO ${wordOf(is_below ? 'C' : last)}`];
}
