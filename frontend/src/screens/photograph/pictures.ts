import type { Shop } from '../../services/shop';
import { usePicture } from '../frame/picture_here';
import { useLive } from '../live';

/** A photograph of a defect as the screens show it. */
export interface Picture {
  record: string;
  sha256: string;
  role: string;
  width_px: number;
  height_px: number;
  mirrored: boolean;
  /** Digital zoom of the camera, where it says one above 1. */
  zoom?: string;
  /** Day it was taken, where the camera says it. */
  day: string | null;
  /** Day and time it was handed over, of one whose camera gave no time. */
  received: [day: string, time: string] | null;
}

/** "2025-11-03"; "received 2025-11-03 10:14, camera gave no time". */
export function whenWords({ day, received }: Pick<Picture, 'day' | 'received'>): string {
  if (day || !received) return day ?? 'day not known';
  return `received ${received.join(' ')}, camera gave no time`;
}

/** Photographs of a record, oldest first; undefined until they are read. */
export function usePhotographs(shop: Shop, record: string | undefined): Picture[] | undefined {
  return useLive(shop, async () => (record ? picturesOf(shop, record) : undefined), [record]);
}

/** Photographs of a record, oldest first; those withheld are left out. */
export async function picturesOf(shop: Shop, record: string): Promise<Picture[]> {
  const related = await shop.book.related(record, 'photograph');
  const found = related.filter((one) => one.withheld !== true && typeof one.sha256 === 'string');
  const undated = found.filter((one) => dayOf(one.taken) === null).map((one) => one.record);
  const begun = undated.length > 0 ? await shop.book.begunAt(undated) : {};
  return found
    .map((one) => ({
      record: one.record,
      sha256: one.sha256 as string,
      role: (one.role as string) ?? 'wide',
      width_px: one.width_px as number,
      height_px: one.height_px as number,
      mirrored: one.mirrored === true,
      ...(typeof one.zoom === 'string' ? { zoom: one.zoom } : {}),
      day: dayOf(one.taken),
      received: begun[one.record] ?? null,
    }))
    .sort((one, other) => order(one).localeCompare(order(other)));
}

/** By day, and of one day the wide picture before the close ones. */
function order(picture: Picture): string {
  return `${picture.day ?? picture.received?.join(' ') ?? '9'} ${picture.role === 'wide' ? 0 : 1}`;
}

function dayOf(taken: unknown): string | null {
  const wall = (taken as { wall?: string } | null)?.wall;
  return wall ? wall.slice(0, 10) : null;
}

/** Address of a photograph for an image; null until it is here, given back when it is left. */
export function usePhotograph(
  shop: Shop,
  sha256: string | undefined,
  size?: 320 | 1000 | 1600,
): string | null {
  return usePicture(shop, sha256, size).url;
}
