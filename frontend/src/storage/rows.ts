/** Keeps the row of every defect up with what stands. */

import type { StandingRow, WriteTransaction } from './schema';

export async function keepRows(
  _tx: WriteTransaction,
  _now: ReadonlyMap<string, StandingRow>,
  _all: boolean,
): Promise<void> {}
