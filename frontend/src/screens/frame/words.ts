import type { RefusalShape } from '../../services/shop';

const ROLE_WORDS: Record<string, string> = {
  inspector: 'inspector',
  lead: 'lead',
  clerk: 'records clerk',
  fitter: 'fitter',
  bench_fitter: 'bench fitter',
  design_authority: 'design authority',
};

/** "bench fitter" for `bench_fitter`. */
export function roleWords(role: string): string {
  return ROLE_WORDS[role] ?? role.replaceAll('_', ' ');
}

/** What went wrong as two sentences: what happened, what to do. */
export function troubleOf(error: unknown): { what: string; todo: string } {
  const refusal = error as Partial<RefusalShape> | null;
  if (refusal && typeof refusal.message === 'string')
    return { what: refusal.message, todo: refusal.hint ?? '' };
  return { what: String(error), todo: 'Try again; if it stays, tell the lead.' };
}

/** The same with a capital at its head. */
export const capital = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);

const MONTHS =
  'January February March April May June July August September October November December'.split(
    ' ',
  );

/** "1 October 2025" of "2025-10-01"; what is no day stays as it is. */
export function dayWords(day: string): string {
  const [, year, month, date] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day) ?? [];
  const name = MONTHS[Number(month) - 1];
  return name ? `${Number(date)} ${name} ${year}` : day;
}
