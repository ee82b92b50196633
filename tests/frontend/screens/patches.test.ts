// The drawings on which zones are chosen for a report.

import { expect, it } from 'vitest';
import { handsOn, patchesOf, zoneViews } from '../../../frontend/src/screens/reports/patches';
import type { Definition } from '../../../frontend/src/services/shop';
import DEFINITION from '../../../sample_data/skinpin_demo/data/definition_2603.json';

const MARRAM = DEFINITION as unknown as Definition;

it('say which half of the shell is port and which starboard, where its zones lie', () => {
  const shell = zoneViews(MARRAM).find((view) => view.y.per_strake !== undefined);
  if (!shell) throw new Error('The Marram has no view of its shell.');
  const hands = handsOn(MARRAM, shell);
  expect(hands.map(({ word }) => word)).toEqual(['PORT', 'STBD']);
  const middles = new Map(
    patchesOf(MARRAM, shell).map(({ zone, points }) => [
      MARRAM.zones.find((one) => one.zone === zone)?.hand,
      points.reduce((sum, [, y]) => sum + y, 0) / points.length,
    ]),
  );
  const [port, stbd] = hands.map(({ y }) => y);
  const { origin } = shell.y;
  expect(Math.sign((port ?? 0) - origin)).toBe(Math.sign((middles.get('P') ?? 0) - origin));
  expect(Math.sign((stbd ?? 0) - origin)).toBe(Math.sign((middles.get('S') ?? 0) - origin));
  for (const view of zoneViews(MARRAM).filter((one) => one.y.per_strake === undefined))
    expect(handsOn(MARRAM, view)).toEqual([]);
});
