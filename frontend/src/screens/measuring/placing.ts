/** Points while they are placed on a photograph: by touch, then nudged on to the spot. */

import { type MeasuredShape, TAPS } from '../../domain/photo_measure';
import type { Grain } from '../../furniture';

/** A point as it was touched. */
export interface Touched {
  /** Upright pixels of the original. */
  x: number;
  y: number;
  grain: Grain;
}

export interface Touch extends Touched {
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
/** Steps of the keys, px of the original; the longest where the picture is far larger than the screen. */
const STEPS_PX = [1, 10, 100] as const;
const LONG_STEP_FROM_PX = 2500;
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
export function touched(placing: Placing, point: Touched, most: number): Placing {
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
    ...point,
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

/** Error of the touches in px of the original a coordinate: the largest of them. */
export function tapOf(points: readonly Touch[]): string {
  const errors = points.map(({ fine, grain }) => (fine ? loupePx(grain) : fingerPx(grain)));
  return (Math.ceil(Math.max(...errors) * 10 - 1e-6) / 10).toFixed(1);
}

/** A finger is as sure as the screen shows the ring that it set: 1.5 px of the screen, and the whole
px that a browser tells a touch in (common practice, no source); never below that of the original. */
function fingerPx({ screen_px }: Grain): number {
  const finger = Number(TAPS.finger);
  return screen_px <= 1 ? finger : screen_px * Math.hypot(finger, 1 / Math.sqrt(12));
}

/** Under the loupe the px of the copy that is shown are seen, and nothing finer. */
function loupePx({ copy_px }: Grain): number {
  return Number(TAPS.loupe) * Math.max(1, copy_px);
}

/** The step after this one, round again; `size` of the picture. */
export function stepAfter(step: number, { width_px }: Size): number {
  const steps = STEPS_PX.filter((one) => one < 100 || width_px > LONG_STEP_FROM_PX);
  return steps.find((one) => one > step) ?? FINE_STEP_PX;
}
