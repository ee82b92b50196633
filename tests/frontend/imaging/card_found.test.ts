import aruco from 'js-aruco2';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../../frontend/src/domain/photo_geometry';
import { CARD } from '../../../frontend/src/domain/scale_card';
import { cardIn } from '../../../frontend/src/imaging/card_found';
import { cropsOf, type Drawn, drawn, smaller, viewThrough } from './card_drawn';

const FACING: Point[] = [
  [160.3, 120.7],
  [640.3, 120.7],
  [640.3, 420.7],
  [160.3, 420.7],
];
const TILTED: Point[] = [
  [171.2, 150.4],
  [602.8, 96.1],
  [655.9, 452.6],
  [118.7, 398.3],
];
const SIZE = { width: 800, height: 560 };

async function foundIn(views: Point[][], how: Drawn = {}, by = 1) {
  const picture = drawn(SIZE.width * by, SIZE.height * by, views.map(viewThrough), how);
  return cardIn(smaller(picture, by), picture, cropsOf(picture));
}
const farthest = (found: Point[], truth: Point[]) =>
  Math.max(...found.map(([x, y], at) => off(truth[at] as Point, x, y)));
const off = ([x, y]: Point, ...at: Point) => Math.hypot(at[0] - x, at[1] - y);

describe('cardIn', () => {
  it('knows the markers by the codes of the published dictionary', () => {
    const { codeList } = aruco.AR.DICTIONARIES[CARD.dictionary] as { codeList: number[] };
    for (const { id, code } of CARD.markers) expect(Number.parseInt(code, 16)).toBe(codeList[id]);
  });

  it.each([
    ['facing', FACING],
    ['tilted', TILTED],
  ])('finds the corners of a %s card to a fifth of a pixel', async (_name, corners) => {
    const found = await foundIn([corners]);
    expect(found.ids).toEqual([11, 12, 13, 14]);
    expect(farthest(found.corners, corners)).toBeLessThan(0.2);
    expect(found.residual_px).toBeLessThan(0.2);
  });

  it.each([1, 2, 3])('begins at the upper left of a card turned by %d quarters', async (turns) => {
    const corners = TILTED.map((_, at) => TILTED[(at + turns) % 4] as Point);
    const found = await foundIn([corners]);
    expect(farthest(found.corners, corners)).toBeLessThan(0.3);
  });

  it('goes back to the pixels of the original where it looked in a smaller copy', async () => {
    const large = TILTED.map(([x, y]): Point => [x * 3, y * 3]);
    const found = await foundIn([large], {}, 3);
    expect(farthest(found.corners, large)).toBeLessThan(0.3);
  });

  it('finds a card of which one marker is covered', async () => {
    const found = await foundIn([TILTED], { covered: [13] });
    expect(found.ids).toEqual([11, 12, 14]);
    expect(farthest(found.corners, TILTED)).toBeLessThan(0.6);
  });

  it.each([
    ['two markers are covered', [TILTED], { covered: [11, 13] }, 'no_card'],
    ['there is none', [], {}, 'no_card'],
    ['it is bent', [TILTED], { bent_mm: 1 }, 'card_not_flat'],
    ['it is seen in a mirror', [[...TILTED].reverse()], {}, 'no_card'],
    [
      'there are two',
      [FACING.map(([x, y]): Point => [x / 2, y]), FACING.map(([x, y]): Point => [x / 2 + 400, y])],
      {},
      'two_cards',
    ],
  ])('refuses where %s', async (_why, views, how, code) => {
    await expect(foundIn(views, how)).rejects.toMatchObject({ code });
  });
});
