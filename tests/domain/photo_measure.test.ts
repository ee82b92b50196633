import { describe, expect, it } from 'vitest';
import {
  type Measurement,
  measured,
  propagated,
  rounded,
  roundedUp,
  type Scale,
} from '../../frontend/src/domain/photo_measure';
import type { Unit } from '../../frontend/src/domain/quantities';
import vectors from '../vectors/photo_measure.json';

const scaleOf = (row: { scale: unknown }) => row.scale as Scale | null;
const measurementOf = (row: { measurement: unknown }) => row.measurement as Measurement;

describe('photo_measure', () => {
  it.each(vectors.cases)('$name', (row) => {
    const spread = propagated(scaleOf(row), measurementOf(row));
    expect(Math.abs(spread.size / row.size - 1)).toBeLessThan(1e-9);
    expect(Math.abs(spread.touch / row.touch - 1)).toBeLessThan(1e-6);
    expect(Math.abs(spread.scale / row.scale_u - 1)).toBeLessThan(1e-6);
    const told = measured(scaleOf(row), measurementOf(row), row.picture, row.unit as Unit);
    expect(told).toEqual(row.measured);
  });

  it.each(vectors.refused)('$name is refused', (row) => {
    const picture = { width_px: 2000, height_px: 1400 };
    expect(() => measured(scaleOf(row), measurementOf(row), picture, 'mm')).toThrow(
      expect.objectContaining({ code: row.code, message: row.message }),
    );
  });

  it.each(vectors.rounded)('$value to $places places is $words, and $up at least', (row) => {
    expect([rounded(row.value, row.places), roundedUp(row.value, row.places)]).toEqual([
      row.words,
      row.up,
    ]);
  });
});
