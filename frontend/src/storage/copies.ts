/** Which copies of which photographs lie here, and which of some defects lack. */

import type { StoreName, Transaction } from './schema';

export const COPY_STORES: StoreName[] = ['standing', 'files', 'renditions'];

/** A copy of a photograph: a rendition of a size in px, or the bytes as they were taken (null). */
export interface Copy {
  sha256: string;
  size: number | null;
  bytes: number;
}

export interface Lacking {
  photographs: number;
  /** Photographs of which every copy asked for is here. */
  here: number;
  copies: Copy[];
}

/** What a rendition takes where none is here to go by. */
const LIKELY_BYTES: Record<number, number> = { 320: 30_000, 1000: 200_000 };

/** Which copies of the photographs of these defects are not here; withheld ones are left out. */
export async function lackingCopies(
  tx: Transaction,
  defects: ReadonlySet<string>,
  sizes: readonly (number | null)[],
): Promise<Lacking> {
  const [wanted, files, renditions] = await Promise.all([
    photographsOf(tx, defects),
    tx.objectStore('files').getAllKeys(),
    tx.objectStore('renditions').getAllKeys(),
  ]);
  const whole = new Set(files);
  const small = new Set(renditions.map(([sha256, size]) => `${sha256} ${size}`));
  const copies: Copy[] = [];
  let here = 0;
  for (const [sha256, bytes] of wanted) {
    const before = copies.length;
    for (const size of whole.has(sha256) ? [] : sizes) {
      if (size !== null && small.has(`${sha256} ${size}`)) continue;
      copies.push({ sha256, size, bytes: size === null ? bytes : (LIKELY_BYTES[size] ?? 0) });
    }
    if (copies.length === before) here += 1;
  }
  return { photographs: wanted.size, here, copies };
}

/** Hash and size of the photographs of defects. */
async function photographsOf(
  tx: Transaction,
  defects: ReadonlySet<string>,
): Promise<Map<string, number>> {
  const found = new Map<string, number>();
  for (const row of await tx.objectStore('standing').index('kind').getAll('photograph')) {
    const sets = Object.values(row.values);
    if (sets.some(({ withheld }) => withheld === true)) continue;
    if (!sets.some(({ defect }) => typeof defect === 'string' && defects.has(defect))) continue;
    const sizes = sets.map(({ size_bytes }) => (typeof size_bytes === 'number' ? size_bytes : 0));
    for (const { sha256 } of sets) {
      if (typeof sha256 === 'string') found.set(sha256, Math.max(...sizes));
    }
  }
  return found;
}
