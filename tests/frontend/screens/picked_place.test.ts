import { describe, expect, it } from 'vitest';
import type { Definition, PictureView, Place } from '../../../frontend/src/domain/place';
import { picturePoint, pictureViews, stationOf } from '../../../frontend/src/domain/place';
import { pickedPlace, touchStep } from '../../../frontend/src/screens/airframe/picked_place';
import vectors from '../../vectors/place_pictures.json';

const made = vectors.definition as unknown as Definition;
const [side, developed, , fin] = [...pictureViews(made, 'Hull'), ...pictureViews(made, 'Fin')] as [
  PictureView,
  PictureView,
  PictureView,
  PictureView,
];
const before = {
  ...{ structure: 'Hull', hand: 'P', member: 'F3', offset: { value: '1', unit: 'in' } },
  ...{ strakes: ['K', 'B1'], face: 'inner', precision: 'bay only' },
} as unknown as Place;

describe('a touch on a calibrated picture', () => {
  it('sets the place as finely as a finger tells, and keeps the face', () => {
    const px = picturePoint(developed, made, {
      ...before,
      member: 'F6',
      offset: { value: '3.3', unit: 'in' },
    });
    // 3.5 px an inch, 5 px of the picture to one of the screen: a finger tells 2.1 in.
    expect(touchStep(developed, px, 5)).toBe(5);
    expect(touchStep(developed, px, 1)).toBe(0.5);
    const place = pickedPlace(developed, made, before, px, 1);
    expect(place).toEqual({
      ...{ structure: 'Hull', hand: 'P', member: 'F6', offset: { value: '3.5', unit: 'in' } },
      ...{ strakes: ['K', 'B1'], face: 'inner', precision: 'exact' },
    });
  });

  it('never rounds into the next bay', () => {
    const px = picturePoint(side, made, {
      ...before,
      member: 'F3',
      offset: { value: '12.4', unit: 'in' },
    });
    const place = pickedPlace(side, made, before, px, 4);
    expect(place.member).toBe('F3');
    expect(Number(stationOf(made, place).value)).toBeLessThan(48.5);
  });

  it('leaves strakes as they were where the picture tells none, and none of another structure', () => {
    const plain = { ...made, profile_heights: [] } as unknown as Definition;
    const px = picturePoint(side, plain, before);
    expect(pickedPlace(side, plain, before, px, 1).strakes).toEqual(['K', 'B1']);
    const onFin = pickedPlace(fin, made, { ...before, hand: 'C' } as Place, [400, 400], 1);
    expect(onFin).toMatchObject({ structure: 'Fin', hand: 'C' });
    expect(onFin.offset.unit).toBe('mm');
    expect(onFin.strakes).toBeUndefined();
  });

  it('a touch beside the structure is refused', () => {
    expect(() => pickedPlace(developed, made, before, [100, 10], 1)).toThrow(
      expect.objectContaining({ code: 'outside_airframe' }),
    );
  });
});
