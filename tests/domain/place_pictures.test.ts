import { describe, expect, it } from 'vitest';
import {
  type Definition,
  type Hand,
  isShown,
  type PictureView,
  type Place,
  pictureViews,
  placeAt,
  type View,
  viewPoint,
} from '../../frontend/src/domain/place';
import { drawnViews } from '../../frontend/src/domain/place_pictures';
import vectors from '../vectors/place_pictures.json';

const made = vectors.definition as unknown as Definition;
const viewOf = (name: string) => made.views.find((one) => one.name === name) as View;

describe('place_pictures', () => {
  it.each(vectors.places)('a place has its pixel on $view', (row) => {
    const view = viewOf(row.view);
    const place = row.place as unknown as Place;
    const [x, y] = viewPoint(view, made, place);
    const [u, v] = row.px as [number, number];
    expect(Math.abs(x - u)).toBeLessThan(1e-9 * Math.max(1, Math.abs(u)));
    expect(Math.abs(y - v)).toBeLessThan(1e-9 * Math.max(1, Math.abs(v)));
    expect(isShown(view as unknown as PictureView, made, place)).toBe(row.shown);
  });

  it.each(vectors.touches)('a touched pixel has its place on $view', (row) => {
    const [x, y] = row.px as [number, number];
    expect(placeAt(viewOf(row.view), made, x, y, row.hand as Hand | null)).toEqual(row.place);
  });

  it.each(vectors.refused)('a touch beside the structure is refused on $view', (row) => {
    const [x, y] = row.px as [number, number];
    expect(() => placeAt(viewOf(row.view), made, x, y, row.hand as Hand | null)).toThrow(
      expect.objectContaining({ code: row.code }),
    );
  });

  it('pictures of a structure are found by its name, and have no lines', () => {
    expect(pictureViews(made, 'Fin').map(({ name }) => name)).toEqual(['fin sheet']);
    expect(drawnViews(made)).toEqual([]);
  });

  it('a place off the aircraft lies in no picture', () => {
    const off = { off: 'Bench 2', part: 'Strut, port' } as unknown as Place;
    expect(isShown(pictureViews(made, 'Hull')[0] as PictureView, made, off)).toBe(false);
  });
});
