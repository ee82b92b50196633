import { describe, expect, it } from 'vitest';
import type { Definition, Structure } from '../../../frontend/src/domain/place';
import { pictureViews } from '../../../frontend/src/domain/place';
import { laidWords } from '../../../frontend/src/screens/airframes/drawings';
import { checkWords } from '../../../frontend/src/screens/drawings/fit_words';
import {
  asked,
  type Drawing,
  drawingOf,
  errorWords,
  type Fitted,
  type Known,
  lacks,
  NO_POINT,
  nameFor,
  newDrawing,
  placeOf,
  viewOf,
} from '../../../frontend/src/screens/drawings/known';
import vectors from '../../vectors/place_pictures.json';

const made = vectors.definition as unknown as Definition;
const [hull, fin] = made.structures as [Structure, Structure];

function known(change: Partial<Known>): Known {
  return { ...NO_POINT, px: [10, 20], ...change };
}

const FITTED: Fitted = {
  ...{ method: 'affine', to_picture: [1, 0, 0, 0, 1, 0, 0, 0, 1], rms: 0.1, errors: [] },
  ...{ fitted_px: [], check_error: 0.2, check_px: [1, 1], span: 100, limit: 0.5, mirrored: false },
  ...{ forward: 'left', troubles: [] },
};

describe('known points of a drawing', () => {
  const developed = newDrawing(hull);
  const side: Drawing = { ...developed, second: 'water line' };

  it('a structure with strakes begins with strakes, another with water lines', () => {
    expect(developed.second).toBe('strake');
    expect(newDrawing(fin).second).toBe('water line');
  });

  it.each([
    [side, known({ member: 'F6', second: '40' }), [72, 40]],
    [side, known({ member: 'F6', offset: '2,5', second: '−3' }), [74.5, -3]],
    [side, known({ offset: '71.5', second: '40' }), [71.5, 40]],
    [developed, known({ member: 'F6', second: 'B2', side: 'P' }), [72, -2]],
    [developed, known({ member: 'F6', second: 'B2', side: 'S' }), [72, 2]],
    [developed, known({ member: 'F6', second: 'K', side: 'P' }), [72, 0]],
    [{ ...developed, hand: 'P' } as Drawing, known({ member: 'F6', second: 'B2' }), [72, 2]],
    [side, known({ member: 'F6' }), null],
    [side, known({ member: 'F6', second: 'B2' }), null],
    [side, known({ second: '40' }), null],
    [side, known({ member: 'F6', offset: 'two', second: '40' }), null],
    [developed, known({ member: 'F6', second: 'S9' }), null],
  ])('lie where they are said to be (%#)', (drawing, one, at) => {
    expect(placeOf(drawing, hull, one)).toEqual(at);
  });

  it('are sent once they are whole, the check point beside them', () => {
    const points = [
      known({ member: 'F0', second: '20' }),
      known({ member: 'F6' }),
      known({ member: 'F3', second: '30', is_check: true }),
      known({ member: 'F6', second: '40', px: null }),
    ];
    expect(asked({ ...side, points }, hull)).toBeNull();
    points.push(known({ member: 'F20', second: '24' }));
    expect(asked({ ...side, points, hand: 'P', limit: '1' }, hull)).toEqual({
      points: [
        { px: [10, 20], at: [0, 20] },
        { px: [10, 20], at: [240, 24] },
      ],
      check: { px: [10, 20], at: [36, 30] },
      ...{ second: 'water line', hand: 'P', positive: 'aft', unit: 'in', limit_percent: 1 },
    });
  });

  it('are not sent while they are too few for the fit', () => {
    const points = ['F0', 'F6', 'F20'].map((member) => known({ member, second: 'K' }));
    expect(asked({ ...developed, points: points.slice(1) }, hull)).toBeNull();
    expect(asked({ ...developed, points }, hull)?.points).toHaveLength(3);
    expect(asked({ ...developed, points, method: 'homography' }, hull)).toBeNull();
  });

  it.each(pictureViews(made, 'Hull'))(
    'a view read and kept again has the same points: $name',
    (view) => {
      const drawing = drawingOf(view, hull);
      const signed = { name: view.name, by: 'one', date: '2025-10-01' };
      const again = viewOf(drawing, hull, FITTED, signed);
      expect(again.calibration.points).toEqual(view.calibration.points);
      expect(again.calibration.check).toEqual(view.calibration.check);
      expect(again).toMatchObject({ name: view.name, sheet: view.sheet, picture: view.picture });
      expect(again.hand).toBe(view.hand);
    },
  );

  it('can be kept once they have a picture, a title and a fit that is not refused', () => {
    const { picture } = pictureViews(made, 'Hull')[0] as { picture: Drawing['picture'] };
    expect(lacks(side, null)).toBe('first a file');
    expect(lacks({ ...side, picture }, null)).toBe('first its title');
    const titled = { ...side, picture, title: 'Side' };
    expect(lacks(titled, null)).toBe('first its points');
    expect(lacks(titled, FITTED)).toBeNull();
    const off = { code: 'check_point_off', message: 'The check point is off.', hint: '' };
    expect(lacks(titled, { ...FITTED, troubles: [{ ...off, weight: 'refused' }] })).toBe(
      off.message,
    );
    expect(lacks(titled, { ...FITTED, troubles: [{ ...off, weight: 'said' }] })).toBeNull();
  });

  it('a new issue of a sheet is a view of another name', () => {
    const sheet = { ...side, title: 'Side', sheet: '12', issue: 'B' };
    expect(nameFor(sheet, [])).toBe('sheet 12 issue B');
    expect(nameFor({ ...sheet, issue: 'C' }, ['sheet 12 issue B'])).toBe('sheet 12 issue C');
    expect(nameFor(sheet, ['sheet 12 issue B'])).toBe('sheet 12 issue B (2)');
    expect(nameFor({ ...sheet, sheet: '' }, [])).toBe('Side');
  });

  it('errors have two figures', () => {
    expect(errorWords(0.1234, 'in')).toBe('0.12 in');
    expect(errorWords(0.0001, 'mm')).toBe('0.00 mm');
    expect(errorWords(12.7, 'mm')).toBe('13 mm');
  });
});

describe('what a fit is worth', () => {
  it('is said by the check point beside its limit, and that there is none', () => {
    expect(checkWords(null, 'in')).toEqual({ value: '–' });
    expect(checkWords(FITTED, 'in')).toEqual({ value: '0.2 in', second: 'within its limit' });
    const off = { ...FITTED, check_error: 0.61 };
    expect(checkWords(off, 'in')).toEqual({ value: '0.61 in', second: 'over its limit' });
    expect(checkWords({ ...FITTED, check_error: null }, 'mm')).toEqual({
      value: 'none',
      second: 'add one: nothing proves the fit',
    });
  });

  it('stands beside the kept drawing, its lack of a check point too', () => {
    const kept = (calibration: object) => laidWords({ name: 'x', calibration } as never, 'in');
    const fit = { method: 'affine', rms: '0.123', by: 'Lead', date: '2025-11-03' };
    expect(kept({ ...fit, check_error: 0.2 })).toBe(
      'affine, residual 0.12 in, check point 0.2 in off, Lead, 2025-11-03',
    );
    expect(kept(fit)).toBe(
      'affine, residual 0.12 in, no check point: nothing proves it, Lead, 2025-11-03',
    );
  });
});
