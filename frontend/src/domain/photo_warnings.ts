/** What stood beside a figure when it was taken from a photograph, told with it ever after.

Derived from its measurement, scale and photograph as they stand; nothing of it is stored. */

import { type MeasuredPicture, type Measurement, type Scale, warnings } from './photo_measure';
import type { Fields } from './verdicts';

/** What may make a figure wrong by more than its ±, as sentences.

Nothing where one of the three is not here or can't be read: plain values of the records as they
stand, in which anything may be. */
export function figureWarnings(measurement: Fields, scale: Fields, photograph: Fields): string[] {
  if (Object.keys(scale).length === 0 || !isPlaced(measurement.points, photograph)) return [];
  const [on, by] = [scale, measurement] as unknown as [Scale, Measurement];
  return warnings(on, by, photograph as unknown as MeasuredPicture).map(({ words }) => words);
}

function isPlaced(points: unknown, { width_px, height_px }: Fields): boolean {
  if (![width_px, height_px].every((one) => typeof one === 'number' && one !== 0)) return false;
  return Array.isArray(points) && points.every(isPoint);
}

function isPoint(point: unknown): boolean {
  if (!Array.isArray(point) || point.length !== 2) return false;
  return point.every((one) => typeof one === 'number');
}
