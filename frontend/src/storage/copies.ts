/** Which copies of which photographs lie here. */

import type { StoreName, Transaction } from './schema';

export const COPY_STORES: StoreName[] = ['standing', 'files', 'renditions'];

export interface HeldPhotograph {
  sha256: string;
  /** Size of the photograph as it was taken. */
  size_bytes: number;
  /** Records of the defects it shows. */
  defects: string[];
  /** Whether the bytes as they were taken are here, and of which sizes (px) a small copy is. */
  whole: boolean;
  sizes: number[];
}

/** Every photograph of the book that may be shown, with the copies that are here. */
export async function heldPhotographs(tx: Transaction): Promise<HeldPhotograph[]> {
  const [rows, files, renditions] = await Promise.all([
    tx.objectStore('standing').index('kind').getAll('photograph'),
    tx.objectStore('files').getAllKeys(),
    tx.objectStore('renditions').getAllKeys(),
  ]);
  const whole = new Set(files);
  const sizes = new Map<string, number[]>();
  for (const [sha256, size] of renditions) sizes.set(sha256, [...(sizes.get(sha256) ?? []), size]);
  const found = new Map<string, HeldPhotograph>();
  for (const { values } of rows) {
    const sets = Object.values(values);
    if (sets.some(({ withheld }) => withheld === true)) continue;
    const defects = sets.flatMap(({ defect }) => (typeof defect === 'string' ? [defect] : []));
    const size_bytes = Math.max(0, ...sets.map((set) => Number(set.size_bytes) || 0));
    for (const { sha256 } of sets) {
      if (typeof sha256 !== 'string') continue;
      const before = found.get(sha256)?.defects ?? [];
      const here = { whole: whole.has(sha256), sizes: sizes.get(sha256) ?? [] };
      found.set(sha256, { sha256, size_bytes, defects: [...before, ...defects], ...here });
    }
  }
  return [...found.values()];
}
