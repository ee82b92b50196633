import { transformOf } from '../../domain/same_view';
import type { Json, Shop } from '../../services/shop';
import { useLive } from '../live';
import { picturesOf } from '../photograph/pictures';
import { type Comparing, useComparing } from './comparing';
import { type FitSaid, keptSaid, viewSaid } from './fit_words';
import { type Registration, useRegistration } from './registration';
import { keptSpots, rivetFit, type Spots, sizeOf, type Touching, useTouching } from './touching';
import { useChain, useViewPicture, type ViewPicture } from './view_pictures';

/** Two pictures of one view, and all that is known of how they lie on each other. */
export interface Pair {
  here: ViewPicture | null | undefined;
  earlier: ViewPicture | null | undefined;
  /** All pictures of this view, the oldest first. */
  chain: readonly ViewPicture[];
  touching: Touching;
  registration: Registration;
  comparing: Comparing;
  to_other: readonly number[] | null;
  said: FitSaid | null;
  /** The fit that KEEP would store: an offer that is looked at, else the rivets. */
  fit: Json;
  /** Whether it stands in the record as it is. */
  is_kept: boolean;
  keep: (fit: Json) => Promise<void>;
}

/** A photograph beside the one that was asked for, else the one it repeats, else the one before. */
export function usePair(shop: Shop, photograph: string, asked: string | undefined): Pair {
  const here = useViewPicture(shop, photograph);
  const guess = useLive(shop, async () => (here ? guessed(shop, here) : null), [
    here?.record,
    here?.repeat_of,
  ]);
  const name = asked ?? here?.repeat_of ?? guess;
  const found = useViewPicture(shop, name);
  // What was read for another address is not this pair's.
  const earlier = name && found?.record !== name && found !== null ? undefined : found;
  const chain = useChain(shop, photograph) ?? [];
  const both = here && earlier ? { here, earlier } : null;
  const touching = useTouching(both?.earlier ?? null, both?.here ?? null);
  const registration = useRegistration(shop, both?.earlier ?? null, both?.here ?? null);
  const comparing = useComparing(here?.fit ? 'blink' : 'rivets');
  const kept = both && both.here.repeat_of === both.earlier.record ? both.here.fit : null;
  const { offer } = registration;
  const { view, spots } = touching;
  const fit = offer?.fit ?? (view ? rivetFit(view, spots) : null);
  return {
    here,
    earlier: name === undefined ? undefined : earlier,
    chain,
    touching,
    registration,
    comparing,
    to_other: both
      ? (offer?.view.to_other ??
        keptLaid(kept, both, fit) ??
        view?.to_other ??
        transformOf(kept, sizeOf(both.here), sizeOf(both.earlier)))
      : null,
    said: offer
      ? viewSaid(offer.view)
      : sameFit(fit, kept) || !view
        ? keptSaid(kept)
        : viewSaid(view),
    fit,
    is_kept: fit === null || sameFit(fit, kept),
    keep: async (chosen) => {
      if (!shop.session || !both) return;
      const set = { repeat_of: both.earlier.record, fit: chosen };
      await shop.capture.setFields(shop.session, both.here.record, set);
      registration.leave();
      comparing.setMode('blink');
    },
  };
}

/** A kept registration lies as it was accepted, not as the rivets that were never touched. */
function keptLaid(kept: Json, both: { here: ViewPicture; earlier: ViewPicture }, fit: Json) {
  return fit === null || sameFit(fit, kept)
    ? transformOf(kept, sizeOf(both.here), sizeOf(both.earlier))
    : null;
}

/** Whether two fits are of the same rivets; what is stored has its names in another order. */
function sameFit(one: Json, other: Json): boolean {
  const [mine, kept] = [keptSpots(one), keptSpots(other)];
  const told = ({ here, earlier }: Spots) => JSON.stringify([here, earlier]);
  return mine.here.every((spot) => spot !== null) && told(mine) === told(kept);
}

/** The last picture of the record before this one, of its role if there is one. */
async function guessed(shop: Shop, here: ViewPicture): Promise<string | null> {
  const all = await picturesOf(shop, here.defect);
  const before = all.slice(
    0,
    all.findIndex((one) => one.record === here.record),
  );
  const alike = before.findLast((one) => one.role === here.role);
  return (alike ?? before.at(-1))?.record ?? null;
}
