import { useEffect, useState } from 'preact/hooks';
import type { Point } from '../../domain/photo_geometry';
import { FEWEST, fitOf, type SameView, sameView, shownPoint } from '../../domain/same_view';
import type { Json } from '../../services/shop';
import { troubleOf } from '../frame/words';
import type { ViewPicture } from './view_pictures';

export type Which = 'earlier' | 'here';
/** Upright px of a picture's own; null where a rivet is not touched yet. */
export type Spot = { x: number; y: number } | null;
export interface Spots {
  earlier: Spot[];
  here: Spot[];
}

export interface Touching {
  spots: Spots;
  /** The point that a touch or a step moves. */
  active: { which: Which; at: number };
  touch: (which: Which, point: { x: number; y: number }) => void;
  /** Moves the active point by steps, as it is shown. */
  nudge: (right: number, down: number) => void;
  next: () => void;
  clear: () => void;
  step_px: number;
  /** What all points come to; null while some lack or say nothing. */
  view: SameView | null;
  /** Why they say nothing. */
  trouble: string | null;
}

const NONE: Spots = { earlier: [null, null, null], here: [null, null, null] };

/** The order in which rivets are touched: one in the earlier picture, the same one here. */
export const ORDER: readonly Touching['active'][] = [0, 1, 2].flatMap((at) => [
  { which: 'earlier' as const, at },
  { which: 'here' as const, at },
]);

/** Three rivets touched in both pictures, beginning with those that a kept fit has. */
export function useTouching(earlier: ViewPicture | null, here: ViewPicture | null): Touching {
  const [spots, setSpots] = useState<Spots>(NONE);
  const [active, setActive] = useState<Touching['active']>({ which: 'earlier', at: 0 });
  const kept = here && earlier && here.repeat_of === earlier.record ? here.fit : null;
  useEffect(() => {
    setSpots(keptSpots(kept));
    setActive({ which: 'earlier', at: 0 });
  }, [earlier?.record, here?.record, JSON.stringify(kept)]);
  const picture = active.which === 'here' ? here : earlier;
  const step_px = Math.max(1, Math.round((picture?.width_px ?? 0) / 1200));
  const put = ({ which, at }: Touching['active'], spot: Spot) =>
    setSpots((now) => ({ ...now, [which]: now[which].with(at, spot) }));
  const found = viewOfSpots(spots, earlier, here);
  return {
    spots,
    active,
    step_px,
    ...found,
    touch: (which, point) => {
      const at = whereTo(spots, active, which);
      put({ which, at }, within(point, which === 'here' ? here : earlier));
      setActive(turnAfter(spots, { which, at }));
    },
    nudge: (right, down) => {
      const spot = spots[active.which][active.at];
      if (!spot || !picture) return;
      const across = picture.mirrored ? -right : right;
      put(active, within({ x: spot.x + across * step_px, y: spot.y + down * step_px }, picture));
    },
    next: () => setActive(nextOf(active)),
    clear: () => {
      setSpots(NONE);
      setActive({ which: 'earlier', at: 0 });
    },
  };
}

/** Which point a touch in a picture places: the active one, else the first that lacks there. */
export function whereTo(spots: Spots, active: Touching['active'], which: Which): number {
  if (active.which === which) return active.at;
  const lacking = spots[which].indexOf(null);
  return lacking < 0 ? active.at : lacking;
}

/** After a new point the first that lacks is active; one that stood already stays so. */
export function turnAfter(spots: Spots, touched: Touching['active']): Touching['active'] {
  if (spots[touched.which][touched.at] !== null) return touched;
  const lacking = ORDER.find(
    ({ which, at }) => spots[which][at] === null && !(which === touched.which && at === touched.at),
  );
  return lacking ?? touched;
}

function nextOf(active: Touching['active']): Touching['active'] {
  const now = ORDER.findIndex(({ which, at }) => which === active.which && at === active.at);
  return ORDER[(now + 1) % ORDER.length] as Touching['active'];
}

function within({ x, y }: { x: number; y: number }, picture: ViewPicture | null): Spot {
  if (!picture) return null;
  const held = (value: number, most: number) => Math.min(Math.max(value, 0), most);
  return { x: held(x, picture.width_px), y: held(y, picture.height_px) };
}

function viewOfSpots(spots: Spots, earlier: ViewPicture | null, here: ViewPicture | null) {
  if (!earlier || !here) return { view: null, trouble: null };
  const [mine, theirs] = [shown(spots.here, here), shown(spots.earlier, earlier)];
  if (mine.length < FEWEST || theirs.length < FEWEST) return { view: null, trouble: null };
  try {
    const view = sameView(mine, theirs, sizeOf(here), sizeOf(earlier));
    return { view, trouble: null };
  } catch (error) {
    const { what, todo } = troubleOf(error);
    return { view: null, trouble: `${what} ${todo}` };
  }
}

function shown(spots: readonly Spot[], picture: ViewPicture): Point[] {
  return spots
    .filter((spot) => spot !== null)
    .map(({ x, y }) => shownPoint([x, y], picture.width_px, picture.mirrored));
}

export function sizeOf(picture: ViewPicture): [number, number] {
  return [picture.width_px, picture.height_px];
}

/** A fit of three rivets as it is kept, with the points touched in tenths of an upright pixel. */
export function rivetFit(view: SameView, spots: Spots): Json {
  const tenths = (all: readonly Spot[]) =>
    all.flatMap((spot) => (spot ? [[Math.round(spot.x * 10), Math.round(spot.y * 10)]] : []));
  const points = { here: tenths(spots.here), earlier: tenths(spots.earlier) };
  return { ...fitOf(view, 'three rivets'), points } as unknown as Json;
}

/** The points of a kept fit; none where they can't be read. */
export function keptSpots(fit: Json): Spots {
  const points = (fit as { points?: { here?: unknown; earlier?: unknown } } | null)?.points;
  const [here, earlier] = [readSpots(points?.here), readSpots(points?.earlier)];
  return here && earlier ? { here, earlier } : NONE;
}

function readSpots(value: unknown): Spot[] | null {
  if (!Array.isArray(value) || value.length !== FEWEST) return null;
  const spots = value.map((one) => {
    const [x, y] = Array.isArray(one) ? one : [];
    return typeof x === 'number' && typeof y === 'number' ? { x: x / 10, y: y / 10 } : null;
  });
  return spots.every((one) => one !== null) ? spots : null;
}
