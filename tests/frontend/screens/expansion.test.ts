// On the shell expansion words and marks keep clear of each other.

import { expect, it } from 'vitest';
import { type Box, placeLabels, shared } from '../../../frontend/src/furniture';
import { type ExpansionProps, wordsOf } from '../../../frontend/src/screens/airframe/expansion';
import type { DefectRow } from '../../../frontend/src/services/shop';
import { seeded } from '../services/bench';

const STRUCTURE = {
  ...{ name: 'Hull', axis: 'Sta', unit: 'in', datum: 'stem', positive: 'aft', hands: ['P', 'S'] },
  members: Array.from({ length: 8 }, (_, at) => ({
    ...{ name: `F${at + 1}`, kind: 'frame', station: String(8 + at * 13) },
  })),
  ...{ strakes: ['K', 'B1', 'B2', 'B3', 'C'], plating: [], faces: ['inner', 'outer'] },
} as unknown as ExpansionProps['structure'];
const WINDOW = { from: 0, to: 100 } as ExpansionProps['window'];
const ROWS = { low: -2, high: 4 };
const PAPER = {
  width_px: 752,
  x: (station: number) => station * 7.4,
  y: (line: number) => 40 + (line + 2) * 41,
};
const ZONES = ['P', 'S'].map((hand) => ({
  ...{ zone: hand === 'P' ? '111' : '112', title: '', structure: 'Hull', hand },
  ...{ along: ['0', '96'], strakes: [0, 4] },
})) as unknown as ExpansionProps['zones'];

function row(number: string, station: number, strake: number): DefectRow {
  const hand = strake < 0 ? 'S' : 'P';
  const inner = strake < 0 ? -strake - 1 : strake;
  const names = ['K', 'B1', 'B2', 'B3', 'C'];
  return {
    ...{ record: number, number, structure: 'Hull', station: String(station), hand },
    place: { structure: 'Hull', hand, member: 'F1', strakes: [names[inner], names[inner + 1]] },
    ...{ grade: 3, grade_known: true, state: 'Raised' },
  } as unknown as DefectRow;
}

function drawn(defects: DefectRow[], looked = new Set<string>(), is_read = true) {
  const looks = { looked, blocked: new Map() } as unknown as ExpansionProps['looks'];
  const words = wordsOf(
    {
      ...{ structure: STRUCTURE, zones: ZONES, window: WINDOW, rows: ROWS, looks, defects },
      is_read,
      ...{ spot: { station: 9, from: 0, to: 1 }, inside: true, leader: null, onPick: () => {} },
    },
    PAPER,
  );
  const marks = words.marks.marks.map((mark) => ({
    ...{ id: mark.id, x: mark.x, y: mark.y, size: 34, number: mark.number, words: 'Grade 3' },
  }));
  const bounds = { left: 36, right: 716, top: 34, bottom: 292 };
  const labels = placeLabels(marks, bounds, words.boxes).map(({ box }) => box);
  const covers = marks.map(({ x, y }) => ({
    ...{ left: x - 17, right: x + 17, top: y - 17, bottom: y + 17 },
  }));
  return {
    hatch: words.hatch.map(({ box }) => box),
    zones: words.zones.map(({ box }) => box),
    labels,
    covers,
  };
}

const meets = (some: Box[], others: Box[]) =>
  some.some((one) => others.some((other) => one !== other && shared(one, other) > 0));

it('says NOT LOOKED AT once for each hand, clear of every mark, label and zone number', () => {
  // One record stands in the middle of the field, where the words would stand.
  const { hatch, zones, labels, covers } = drawn([
    row('A/0001', 52, 2),
    row('A/0002', 50, -2),
    row('A/0003', 12, 3),
  ]);
  expect(hatch).toHaveLength(2);
  expect(meets(hatch, [...covers, ...labels, ...zones])).toBe(false);
  expect(meets(labels, zones)).toBe(false);
});

it('keeps clear wherever a few records lie (seed 5)', () => {
  const random = seeded(5);
  for (let round = 0; round < 200; round += 1) {
    const some = Array.from({ length: 5 }, (_, at) =>
      row(`A/000${at}`, 9 + random() * 80, Math.floor(random() * 6) - 2),
    );
    const { hatch, labels, covers } = drawn(some);
    expect(meets(hatch, covers), `round ${round}`).toBe(false);
    expect(meets(hatch, labels), `round ${round}`).toBe(false);
  }
});

it('moves a zone number aside that a mark would cover', () => {
  const { zones, covers } = drawn([row('A/0001', 6, 3), row('A/0002', 4, -2)]);
  expect(zones).toHaveLength(2);
  expect(meets(zones, covers)).toBe(false);
});

it('says of nothing that it was not looked at until the book is read', () => {
  expect(drawn([], new Set(), false).hatch).toEqual([]);
  expect(drawn([], new Set(), true).hatch).toHaveLength(2);
});
