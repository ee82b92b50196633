/** Holes of rivet lines that stand in the way of a stage: not reached, or not decided. */

import { type Line, rivetLine } from '../domain/rivet_line';
import type { Json } from './shop';

export interface RivetsHeld {
  /** Record of the defect that the line was surveyed for. */
  defect: string;
  name: string;
  not_reached: string[];
  held: string[];
}

/** Lines with holes in the way. */
export function rivetsInTheWay(records: readonly Record<string, Json>[]): RivetsHeld[] {
  return records
    .map((record) => ({
      defect: String(record.defect ?? ''),
      name: String(record.name ?? 'Rivet line'),
      ...holesOf(record),
    }))
    .filter((one) => one.not_reached.length > 0 || one.held.length > 0);
}

function holesOf(record: Record<string, Json>): Pick<RivetsHeld, 'not_reached' | 'held'> {
  const { design, as_found, as_now, holes } = record;
  const line = { ...(design as object), as_found, as_now, holes } as unknown as Line;
  try {
    const survey = rivetLine(line);
    return { not_reached: survey.not_reached.map(String), held: survey.held.map(String) };
  } catch {
    // A line that can't be read is not sound: every hole of it stands in the way.
    return { not_reached: ['all'], held: [] };
  }
}
