import type { Shape } from '../../services/shop';

/** Marks of one touch; an outline is placed point by point where measurements are. */
export type MarkKind = Exclude<Shape['kind'], 'outline'>;
export const MARK_KINDS: readonly MarkKind[] = ['ring', 'arrow', 'line', 'dot', 'number'];

/** A mark while it is placed, in upright pixels: the point meant, half-sizes, and its turn. */
export interface Placed {
  kind: MarkKind;
  /** Middle of a ring, line, dot or number; tip of an arrow. */
  x: number;
  y: number;
  long: number;
  short: number;
  turn_deg: number;
  label?: string;
}

export interface Size {
  width_px: number;
  height_px: number;
}

const TURN_STEP_DEG = 15;
const RING_SHARE = 0.62;

/** A mark at a touched point, a sixth of the picture wide to each side. */
export function markAt(kind: MarkKind, point: { x: number; y: number }, size: Size): Placed {
  const long = Math.round(size.width_px / 6);
  return { kind, ...point, long, short: Math.round(long * RING_SHARE), turn_deg: 0 };
}

/** Moves a mark by a step, never off the picture. */
export function nudged(mark: Placed, dx: number, dy: number, size: Size): Placed {
  const clamp = (value: number, most: number) => Math.min(Math.max(value, 0), most);
  return { ...mark, x: clamp(mark.x + dx, size.width_px), y: clamp(mark.y + dy, size.height_px) };
}

/** Makes a mark larger or smaller, between a hundredth and half of the picture. */
export function resized(mark: Placed, by: number, size: Size): Placed {
  const least = size.width_px / 100;
  const long = Math.min(Math.max(mark.long * by, least), size.width_px / 2);
  return { ...mark, long, short: (mark.short / mark.long) * long };
}

/** Turns a mark by one step. */
export function turned(mark: Placed): Placed {
  return { ...mark, turn_deg: (mark.turn_deg + TURN_STEP_DEG) % 180 };
}

/** As it is stored: whole tenths of an upright pixel. */
export function shapeOf(mark: Placed): Shape {
  const angle = (mark.turn_deg * Math.PI) / 180;
  const along = { x: mark.long * Math.cos(angle), y: mark.long * Math.sin(angle) };
  const across = { x: mark.short * Math.sin(angle), y: -mark.short * Math.cos(angle) };
  const at = (dx: number, dy: number): [number, number] => [
    Math.round((mark.x + dx) * 10),
    Math.round((mark.y + dy) * 10),
  ];
  const ends: [number, number][] = [at(-along.x, -along.y), at(along.x, along.y)];
  switch (mark.kind) {
    case 'ring':
      return { kind: 'ring', points: [...ends, at(across.x, across.y)] };
    case 'arrow':
      return { kind: 'arrow', points: [at(-2 * along.x, -2 * along.y), at(0, 0)] };
    case 'line':
      return { kind: 'line', points: ends };
    case 'dot':
      return { kind: 'dot', points: [at(0, 0)] };
    case 'number':
      return { kind: 'number', points: [at(0, 0)], label: mark.label ?? '1' };
  }
}
