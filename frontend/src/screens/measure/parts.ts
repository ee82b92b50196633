import type { Definition, Json, Place } from '../../services/shop';

type Structure = Definition['structures'][number];

/** A part that may be meant at this place, with what is drawn of it. */
export interface PartOffered {
  part: string;
  material?: string | undefined;
  thickness?: string | undefined;
}

const MOST = 10;

/** Parts that may be meant at a place: plating of its strakes first, then the others of the structure. */
export function partsAt(structure: Structure | undefined, place: Place | null): PartOffered[] {
  if (!structure || !place) return [];
  const index = structure.strakes?.indexOf(place.strakes?.[0] ?? '') ?? -1;
  const plating = structure.plating ?? [];
  const here = plating.filter((one) =>
    one.strakes ? index >= one.strakes[0] && index < one.strakes[1] : true,
  );
  const plated = plating.map((one) => one.part);
  const others = (structure.parts ?? []).filter((one) => !plated.includes(one.part));
  return [...here, ...others]
    .flatMap(({ part, material, thickness }) =>
      part ? [{ part: partName(part, place), material, thickness }] : [],
    )
    .slice(0, MOST);
}

/** Fields that come with a part: what it is made of, and how thick it is drawn. */
export function partFields(one: PartOffered, unit: 'in' | 'mm'): Record<string, Json> {
  return {
    part: one.part,
    ...(one.material ? { material: one.material } : {}),
    ...(one.thickness
      ? { thickness: { value: one.thickness, unit, method: 'drawing figure' } }
      : {}),
  };
}

/** "frame F6": a frame or rib is named by its own number. */
function partName(part: string, place: Place): string {
  return part.replace(/^(frame|rib)\b/, `$1 ${place.member}`);
}
