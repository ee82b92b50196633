/** Where a crack's lengths lie on its drawing, from its start to the next hole or edge. */

import type { Observation } from '../../domain/crack';
import { tenthNmOrNull } from '../../domain/quantities';
import type { Json } from '../../services/shop';

export interface ReachDrawn {
  /** Where the crack ends now, px; never beyond a tenth past the next hole or edge. */
  tip: number;
  /** Ends of the ± bar at the tip; null where no ± was given. */
  low: number | null;
  high: number | null;
  /** Where it ended before, each once. */
  earlier: number[];
}

const BEYOND = 1.1;
/** Share of the drawing that a crack takes whose next hole or edge was not measured. */
const ALONE = 0.6;

/** Lengths in px from the start of the crack at `left`; the next hole or edge is at `right`. */
export function reachOf(
  observations: readonly Observation[],
  limit: Json | undefined,
  box: { left: number; right: number },
): ReachDrawn | null {
  const lengths = observations.map(({ length }) => Number(tenthNmOrNull(length) ?? 0n));
  const now = lengths.at(-1);
  if (now === undefined || now <= 0) return null;
  const to = Number(tenthNmOrNull(limit) ?? 0n);
  const whole = to > 0 ? to : Math.max(...lengths) / ALONE;
  const x = (length: number) =>
    box.left + Math.min(length / whole, BEYOND) * (box.right - box.left);
  const doubt = tenthNmOrNull(observations.at(-1)?.length.uncertainty);
  const tip = x(now);
  return {
    tip,
    low: doubt === null ? null : x(Math.max(0, now - Number(doubt))),
    high: doubt === null ? null : x(now + Number(doubt)),
    earlier: [...new Set(lengths.slice(0, -1).map(x))].filter((one) => one !== tip),
  };
}
