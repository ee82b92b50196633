/** Strake lines and heights of a structure: which strake a point touches, how high a strake lies. */

import { Refused } from './errors';
import type { Definition, ProfileHeight, Structure } from './place_stations';

// How far beyond the outermost strake a touch still means it.
const SLACK = 0.5;

/** The strake line under a touch. Refused: `outside_airframe`. */
export function strakeUnder(structure: Structure, line: number): number {
  const last = structure.strakes.length - 1;
  if (line >= -SLACK && line <= last + SLACK) {
    return Math.min(Math.max(Math.trunc(line), 0), last - 1);
  }
  throw new Refused(
    'outside_airframe',
    `The point touched is outside ${structure.name}.`,
    'Touch the drawing between its first and last strake.',
  );
}

/** Of keel, chine, gunwale and deck. */
export type Four = [number, number, number, number];

/** The strake lines at keel, chine, gunwale and deck. */
export function cornersOf({ strakes }: Structure): Four {
  const last = strakes.length - 1;
  const named = (name: string, otherwise: number) =>
    strakes.includes(name) ? strakes.indexOf(name) : Math.floor(otherwise);
  const chine = named('C', last / 3);
  return [0, chine, named('G', (chine + last + 1) / 2), last];
}

/**
 * The heights of keel, chine, gunwale and deck at a station, straight between frames. Where two
 * rows have one station, a step, the aft one counts from there on.
 */
export function heightsAt(definition: Definition, station: number): Four {
  const rows = definition.profile_heights ?? [];
  const found = rows.findIndex((row) => Number(row.station) > station);
  const next = found < 0 ? rows.length : found;
  const first = rows[Math.max(next - 1, 0)] as ProfileHeight;
  const second = rows[Math.min(next, rows.length - 1)] as ProfileHeight;
  const span = Number(second.station) - Number(first.station);
  const share = span === 0 ? 0 : (station - Number(first.station)) / span;
  const at = (name: 'keel' | 'chine' | 'gunwale' | 'deck') =>
    Number(first[name]) + (Number(second[name]) - Number(first[name])) * share;
  return [at('keel'), at('chine'), at('gunwale'), at('deck')];
}

const SPANS = [0, 1, 2] as const;

/** How high a strake line lies. */
export function heightAt(heights: Four, corners: Four, line: number): number {
  let height = heights[0];
  for (const at of SPANS) {
    const [from, to] = [corners[at], corners[at + 1] as number];
    const share = to > from ? Math.min(Math.max(line - from, 0) / (to - from), 1) : 0;
    height += ((heights[at + 1] as number) - heights[at]) * share;
  }
  return height;
}

/** The strake line at a height; -1 where nothing rises. */
export function lineOfHeight(heights: Four, corners: Four, height: number): number {
  for (const at of SPANS) {
    const [low, high] = [heights[at], heights[at + 1] as number];
    const [from, to] = [corners[at], corners[at + 1] as number];
    if ((height <= high || at === 2) && high > low) {
      return from + ((height - low) / (high - low)) * (to - from);
    }
  }
  return -1;
}
