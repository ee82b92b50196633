import type { Shape } from '../../services/shop';

/** A ring while it is placed: centre and half-sizes in upright pixels. */
export interface Ring {
  x: number;
  y: number;
  long: number;
  short: number;
}

export interface Size {
  width_px: number;
  height_px: number;
}

/** A ring round a touched point, a sixth of the picture wide to each side. */
export function ringAt(point: { x: number; y: number }, size: Size): Ring {
  const long = Math.round(size.width_px / 6);
  return { x: point.x, y: point.y, long, short: Math.round(long * 0.62) };
}

/** Moves a ring by a step, never off the picture. */
export function nudged(ring: Ring, dx: number, dy: number, size: Size): Ring {
  const clamp = (value: number, most: number) => Math.min(Math.max(value, 0), most);
  return { ...ring, x: clamp(ring.x + dx, size.width_px), y: clamp(ring.y + dy, size.height_px) };
}

/** Makes a ring larger or smaller, between a hundredth and half of the picture. */
export function resized(ring: Ring, by: number, size: Size): Ring {
  const least = size.width_px / 100;
  const most = size.width_px / 2;
  const long = Math.min(Math.max(ring.long * by, least), most);
  return { ...ring, long, short: (ring.short / ring.long) * long };
}

/** As it is stored: ends of the long axis and a point for the width, whole tenths of a pixel. */
export function ringShape(ring: Ring): Shape {
  const tenth = (value: number) => Math.round(value * 10);
  return {
    kind: 'ring',
    points: [
      [tenth(ring.x - ring.long), tenth(ring.y)],
      [tenth(ring.x + ring.long), tenth(ring.y)],
      [tenth(ring.x), tenth(ring.y - ring.short)],
    ],
  };
}

/** The way back from ringShape; null for a mark of another kind. */
export function ringOf(shape: Shape): Ring | null {
  const [left, right, top] = shape.points;
  if (shape.kind !== 'ring' || !left || !right || !top) return null;
  const x = (left[0] + right[0]) / 20;
  const y = (left[1] + right[1]) / 20;
  const long = Math.hypot(right[0] - left[0], right[1] - left[1]) / 20;
  return { x, y, long, short: Math.abs(top[1] / 10 - y) };
}
