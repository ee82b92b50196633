import type { Shop } from '../../services/shop';
import { useLive } from '../live';
import { picturesOf } from '../photograph/pictures';
import { readPicture, type ViewPicture } from './view_pictures';

/** The pictures that can lie over the live view, the one to begin with last: those of the record,
those held alongside, and the one asked for. None whose chain is closed. */
export function useGhosts(
  shop: Shop,
  defect: string,
  held: readonly string[],
  asked: string | undefined,
): ViewPicture[] | undefined {
  return useLive(shop, async () => {
    const own = (await picturesOf(shop, defect)).map((one) => one.record);
    const names = new Set([...held, ...own, ...(asked ? [asked] : [])]);
    if (asked) {
      names.delete(asked);
      names.add(asked);
    }
    const read = await Promise.all([...names].map((one) => readPicture(shop, one)));
    return read.filter((one) => one !== null).filter((one) => !one.closed);
  }, [defect, held.join(' '), asked]);
}
