import type { Shop } from '../../services/shop';

export interface Told {
  records: number;
  stored: number;
  here: number;
  /** Lines for which there was no time: they are stored when the same file is read in again. */
  left?: number;
  numbers: string[];
  troubles: { line: number; column: string; message: string }[];
}

/**
 * Reads a register in, as often as it takes: the server answers before long with what is left.
 * `tell` hears how many of how many lines are stored. What came in before a trouble stays.
 */
export async function readIn(
  api: Pick<Shop['api'], 'postBytes'>,
  path: string,
  file: Blob,
  tell: (stored: number, of: number) => void,
): Promise<Told> {
  let stored = 0;
  let here: number | null = null;
  const numbers: string[] = [];
  for (;;) {
    const told = await api.postBytes<Told>(path, file);
    here ??= told.here;
    stored += told.stored;
    numbers.push(...told.numbers);
    if (!told.left || told.stored === 0) return { ...told, stored, here, numbers };
    tell(stored, stored + told.left);
  }
}
