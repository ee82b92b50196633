/** Figures that came from photographs: which fell, and what stood beside each when it was taken. */

import { AID } from '../../domain/photo_measure';
import { figureWarnings } from '../../domain/photo_warnings';
import { isWithdrawn } from '../../domain/quantities';
import { fallen } from '../../domain/scale_struck';
import type { Json, Shop, Values } from '../../services/shop';
import { useLive } from '../live';

export interface Beside {
  /** Whether it, its scale or its photograph stands no longer. */
  fell: boolean;
  warnings: string[];
}

/** The measurement a figure rests on, null of any other value. */
export function measurementOf(value: Json | undefined): string | null {
  if (typeof value !== 'object' || value === null || !('measurement' in value)) return null;
  return typeof value.measurement === 'string' ? value.measurement : null;
}

/** What is told of figures, by the measurement they rest on; undefined until it was read. */
export function useBeside(shop: Shop, figures: readonly (Json | undefined)[]) {
  const ids = [...new Set(figures.flatMap((one) => measurementOf(one) ?? []))].sort();
  return useLive(shop, () => besideOf(shop, ids), [ids.join(' ')]);
}

/** "length, width measured from the photograph: sorting aid. Not corrected for tilt: …", a sentence
for the figures that share their warnings. */
export function besideWords(
  figures: readonly { name: string; value: Json | undefined }[],
  beside: ReadonlyMap<string, Beside>,
): string[] {
  const bySaid = new Map<string, string[]>();
  for (const { name, value } of figures) {
    const told = beside.get(measurementOf(value) ?? '');
    if (!told || told.fell || isWithdrawn(value)) continue;
    const said = [`${AID}.`, ...told.warnings].join(' ');
    bySaid.set(said, [...(bySaid.get(said) ?? []), name]);
  }
  return [...bySaid].map(([said, names]) => `${names.join(', ')} ${said}`);
}

async function besideOf(shop: Shop, ids: readonly string[]): Promise<Map<string, Beside>> {
  return new Map(
    await Promise.all(ids.map(async (id) => [id, await oneBeside(shop, id)] as const)),
  );
}

async function oneBeside(shop: Shop, id: string): Promise<Beside> {
  const measurement = await shop.book.values(id);
  const named = (field: string) => String(measurement[field]?.[0]?.value ?? '');
  const [on, of] = [named('scale'), named('photograph')];
  const [scale, photograph] = await Promise.all([shop.book.values(on), shop.book.values(of)]);
  const fell = fallen(
    { [id]: byEntry(measurement) },
    { [on]: byEntry(scale) },
    { [of]: byEntry(photograph) },
  ).has(id);
  const warnings = figureWarnings(first(measurement), first(scale), first(photograph));
  return { fell, warnings };
}

const first = (values: Values) =>
  Object.fromEntries(Object.entries(values).map(([field, [one]]) => [field, one?.value ?? null]));

/** Values by entry, as the domain has them. */
function byEntry(values: Values): Record<string, Record<string, Json>> {
  const found: Record<string, Record<string, Json>> = {};
  for (const [field, some] of Object.entries(values))
    for (const { value, entries } of some)
      for (const entry of entries) found[entry] = { ...found[entry], [field]: value };
  return found;
}
