/** Points while they are placed on a photograph: by touch, then nudged on to the spot. */

import { type MeasuredShape, TAPS } from '../../domain/photo_measure';

export interface Touch {
  /** Upright pixels of the original. */
  x: number;
  y: number;
  /** Whether it was set under the loupe, or only by a finger. */
  fine: boolean;
}

export interface Placing {
  points: Touch[];
  /** The point that the keys move; −1 while there is none. */
  at: number;
  /** It was picked with OTHER POINT: the next touch moves it. */
  picked: boolean;
}

export interface Size {
  width_px: number;
  height_px: number;
}

const FINE_STEP_PX = 1;
export const NOTHING_PLACED: Placing = { points: [], at: -1, picked: false };
/** Points that a shape takes; an open count ends when it is kept. */
export const MOST: Readonly<Record<MeasuredShape | 'outline', number>> = {
  length: 2,
  polyline: 100,
  area: 100,
  diameter: 3,
  outline: 100,
};
export const LEAST: Readonly<Record<MeasuredShape | 'outline', number>> = {
  length: 2,
  polyline: 2,
  area: 3,
  diameter: 3,
  outline: 3,
};

/** After a touch: a further point, or the picked or last one moved there. */
export function touched(placing: Placing, point: { x: number; y: number }, most: number): Placing {
  const { points, at, picked } = placing;
  const fresh = { ...point, fine: false };
  if (picked || points.length >= most)
    return { points: points.with(at, fresh), at, picked: points.length < most };
  return { points: [...points, fresh], at: points.length, picked: false };
}

/** The current point moved by a step, never off the picture. A step of one pixel was seen in the
loupe; after a longer one nobody looked yet. */
export function nudged(placing: Placing, dx: number, dy: number, size: Size): Placing {
  const { points, at } = placing;
  const point = points[at];
  if (!point) return placing;
  const clamp = (value: number, most: number) => Math.min(Math.max(value, 0), most);
  const moved = {
    x: clamp(point.x + dx, size.width_px),
    y: clamp(point.y + dy, size.height_px),
    fine: Math.max(Math.abs(dx), Math.abs(dy)) <= FINE_STEP_PX,
  };
  return { ...placing, points: points.with(at, moved) };
}

/** The current point was looked at in the loupe and lies on the spot. */
export function onTheSpot(placing: Placing): Placing {
  const point = placing.points[placing.at];
  if (!point) return placing;
  const points = placing.points.with(placing.at, { ...point, fine: true });
  return { ...placing, points, picked: false };
}

/** The next point is the one that keys and touches move. */
export function other(placing: Placing): Placing {
  if (placing.points.length === 0) return placing;
  return { ...placing, at: (placing.at + 1) % placing.points.length, picked: true };
}

/** Without the point placed last. */
export function without(placing: Placing): Placing {
  const points = placing.points.slice(0, -1);
  return { points, at: points.length - 1, picked: false };
}

/** Whole tenths of a pixel, as they are stored. */
export function tenths(points: readonly Touch[]): [number, number][] {
  return points.map(({ x, y }) => [Math.round(x * 10), Math.round(y * 10)]);
}

/** Error of the touches in px a coordinate: that of the loupe where each point was set under it. */
export function tapOf(points: readonly Touch[]): string {
  return points.every(({ fine }) => fine) ? TAPS.loupe : TAPS.finger;
}
