import { describe, expect, it } from 'vitest';
import { dayNumber, type FigureRow, figures } from '../../frontend/src/domain/figures';
import demo from '../vectors/demo_rows.json';
import vectors from '../vectors/figures.json';

describe('figures', () => {
  it('the demo has the check figures', () => {
    const told = figures(demo.rows as unknown as FigureRow[], demo.today);
    expect(told).toEqual(vectors.demo);
    expect(told.open_by_age.map((bar) => bar.count)).toEqual([5, 3, 10, 16, 0]);
    expect(told.days_to_clear.median).toBe('63');
  });

  it.each(vectors.cases)('$name', (row) => {
    const rows = row.rows.map((one) => ({ ...vectors.base, ...one })) as unknown as FigureRow[];
    expect(figures(rows, row.today)).toMatchObject(row.figures);
  });

  it.each(vectors.days)('a date is a day or none: $text', ({ text, day }) => {
    expect(dayNumber(text)).toBe(day);
  });
});
