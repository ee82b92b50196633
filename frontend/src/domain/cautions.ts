/** Cautions to read before a hand goes near: by kind of defect, and by where one lies. */

import table from '@tables/cautions.json';
import { KINDS, rowOf } from './kinds';

export interface Caution {
  caution: string;
  title: string;
  text: string;
  basis: { source: string; marker: string };
}

export const CAUTIONS: Readonly<Record<string, Omit<Caution, 'caution'>>> = table;

/** The cautions of a kind, that of a confined space first where one works in it. */
export function cautionsFor(kind: string | null | undefined, confined = false): Caution[] {
  const names = [...(confined ? ['confined_space'] : []), ...(rowOf(KINDS, kind)?.cautions ?? [])];
  return names.map((caution) => ({
    caution,
    ...(CAUTIONS[caution] as Omit<Caution, 'caution'>),
  }));
}
