import { expect, it } from 'vitest';
import { CARD, cardCorners, markerCorners } from '../../frontend/src/domain/scale_card';

it('goes round the card and round a marker clockwise from the upper left', () => {
  expect(cardCorners()).toEqual([
    [0, 0],
    [80, 0],
    [80, 50],
    [0, 50],
  ]);
  expect(CARD.markers.map((one) => markerCorners(one)[0])).toEqual([
    [3, 3],
    [63, 3],
    [63, 33],
    [3, 33],
  ]);
  expect(markerCorners(CARD.markers[0] as (typeof CARD.markers)[number])).toEqual([
    [3, 3],
    [17, 3],
    [17, 17],
    [3, 17],
  ]);
});
