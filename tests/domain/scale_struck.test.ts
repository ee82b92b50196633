// A figure rests on its measurement, its scale and its photograph: without them it is none.
import { describe, expect, it } from 'vitest';
import {
  fallen,
  fallenFigures,
  fallenIn,
  withoutFallen,
} from '../../frontend/src/domain/scale_struck';
import type { Values } from '../../frontend/src/domain/values';
import vectors from '../vectors/scale_struck.json';

type Records = Record<string, Values>;

describe('what a figure rests on', () => {
  it.each(vectors.cases)('$name', (row) => {
    const [values, measurements, scales, photographs] = [
      ...[row.values, row.measurements, row.scales, row.photographs],
    ] as unknown as [Values, Records, Records, Records];
    const gone = fallen(measurements, scales, photographs);
    expect([...gone].sort()).toEqual(row.gone);
    const told = fallenFigures(values, gone);
    expect(told.map(({ entry, reason }) => [entry, reason])).toEqual(row.told);
    const named = fallenIn({ not_counting: told });
    expect(named).toEqual(new Set(told.map(({ measurement }) => measurement)));
    expect([...named].every((one) => gone.has(one))).toBe(true);
    const left = withoutFallen(values, gone);
    expect(fallenFigures(left, gone)).toEqual([]);
    if (row.told.length === 0) expect(left).toEqual(values);
    else expect(left).not.toEqual(values);
  });
});
