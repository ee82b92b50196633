import { describe, expect, it } from 'vitest';
import { sameView } from '../../../frontend/src/domain/same_view';
import {
  keptSpots,
  rivetFit,
  type Spots,
  turnAfter,
  whereTo,
} from '../../../frontend/src/screens/same_view/touching';

const at = (x: number, y: number) => ({ x, y });
const NONE: Spots = { earlier: [null, null, null], here: [null, null, null] };
const ALL: Spots = {
  earlier: [at(100, 100), at(900, 120), at(500, 700)],
  here: [at(110.26, 100), at(905, 130), at(507, 712)],
};

describe('touching rivets', () => {
  it('goes to and fro: a rivet in the earlier picture, then the same one here', () => {
    const one = { ...NONE, earlier: [at(1, 2), null, null] };
    expect(turnAfter(NONE, { which: 'earlier', at: 0 })).toEqual({ which: 'here', at: 0 });
    expect(turnAfter(one, { which: 'here', at: 0 })).toEqual({ which: 'earlier', at: 1 });
  });

  it('a rivet that is touched again stays the one that is stepped', () => {
    expect(turnAfter(ALL, { which: 'here', at: 1 })).toEqual({ which: 'here', at: 1 });
  });

  it('a touch in the other picture places what lacks there first', () => {
    const one = { ...NONE, earlier: [at(1, 2), null, null] };
    expect(whereTo(one, { which: 'here', at: 0 }, 'here')).toBe(0);
    expect(whereTo(one, { which: 'here', at: 0 }, 'earlier')).toBe(1);
    expect(whereTo(ALL, { which: 'here', at: 2 }, 'earlier')).toBe(2);
  });
});

describe('a fit of three rivets', () => {
  const points = (spots: Spots['here']) =>
    spots.map((one) => [one?.x ?? 0, one?.y ?? 0] as [number, number]);
  const view = sameView(points(ALL.here), points(ALL.earlier), [1600, 1200], [1600, 1200]);

  it('is kept with the points in tenths of a pixel, and read again', () => {
    const fit = rivetFit(view, ALL);
    const told = keptSpots(JSON.parse(JSON.stringify(fit)));
    expect(told.earlier).toEqual(ALL.earlier);
    expect(told.here[0]).toEqual(at(110.3, 100));
  });

  it('whose points can’t be read has none', () => {
    for (const fit of [null, 7, {}, { points: { here: [[1, 2]], earlier: [[1, 2]] } }])
      expect(keptSpots(fit)).toEqual(NONE);
    const broken = {
      here: [
        [1, 2],
        [3, 'x'],
        [5, 6],
      ],
      earlier: [
        [1, 2],
        [3, 4],
        [5, 6],
      ],
    };
    expect(keptSpots({ points: broken })).toEqual(NONE);
  });
});
