import { describe, expect, it } from 'vitest';
import {
  type Definition,
  type Place,
  stationOf,
  viewPoint,
  zoneOf,
} from '../../../frontend/src/domain/place';
import { definitionOf } from '../../../frontend/src/services/airframe_definition';
import {
  inOrder,
  joinMembers,
  moveDatum,
  shifted,
} from '../../../frontend/src/services/airframe_edits';
import {
  BLANK,
  BLANK_STRUCTURE,
  type Description,
} from '../../../frontend/src/services/airframe_rows';

const members = [
  { name: 'F1', station: '0' },
  { name: 'F2', station: '100.5' },
];
const hull = { ...BLANK_STRUCTURE, name: 'Hull', members, strakes: 'K, B1' };
const described: Description = {
  ...BLANK,
  structures: [hull, { ...BLANK_STRUCTURE, name: 'Port wing', hands: 'P', members }],
  zones: [
    { zone: '111', structure: 'Hull', to: 'F2' },
    { zone: '121', structure: 'Hull', from: 'F2', to: '150' },
    { zone: '501', structure: 'Port wing', to: '150' },
  ],
};

describe('inOrder', () => {
  it('sorts by station, negative ones first, and leaves what is no figure last', () => {
    const rows = [{ name: 'c', station: '5' }, { name: 'x' }, {}, { name: 'a', station: '−10' }];
    expect(inOrder(rows).map(({ name }) => name)).toEqual(['a', 'c', 'x']);
  });
});

describe('joinMembers', () => {
  const standing = [
    { name: 'F1', station: '0', kept: '{"drawn":1}' },
    {},
    { name: 'F2', station: '100' },
    { name: 'f1', station: '3' },
  ];

  it('replaces a member by a line of its name where it stands, and its double goes', () => {
    expect(joinMembers(standing, [{ name: 'F1', station: '4', main: 'yes' }])).toEqual({
      members: [
        { name: 'F1', station: '4', main: 'yes', kept: '{"drawn":1}' },
        { name: 'F2', station: '100' },
      ],
      replaced: ['F1'],
      added: [],
    });
  });

  it('puts lines of new names at the end, and says which are which', () => {
    const read = [
      { name: 'F3', station: '150' },
      { name: 'f2 ', station: '90' },
    ];
    const { members: all, replaced, added } = joinMembers(standing.slice(0, 3), read);
    expect(all.map(({ name, station }) => `${name} ${station}`)).toEqual([
      ...['F1 0', 'f2  90', 'F3 150'],
    ]);
    expect({ replaced, added }).toEqual({ replaced: ['f2 '], added: [read[0]] });
    expect(joinMembers([], read).added).toEqual(read);
  });
});

describe('shifted', () => {
  it.each([
    ['100.5', '-4', '96.5'],
    ['0', '-0.25', '-0.25'],
    ['-450', '450', '0'],
    ['-.5', '1.25', '0.75'],
    ['F6', '1', 'F6'],
    ['9007199254740993', '1', '9007199254740994'],
  ])('%s and %s are %s', (text, by, sum) => expect(shifted(text, by)).toBe(sum));
});

describe('moveDatum', () => {
  const place: Place = {
    ...{ structure: 'Hull', hand: 'P', member: 'F2', strakes: ['K', 'B1'] },
    offset: { value: '2.0', unit: 'in' },
  };
  const before = definitionOf(described).definition;
  const after = definitionOf(moveDatum(described, 0, '−4')).definition;

  it('shifts every station of one structure and no place on it', () => {
    expect(stationOf(before, place).value).toBe('102.5');
    expect(stationOf(after, place).value).toBe('98.5');
    expect(after.structures[1]).toEqual(before.structures[1]);
    expect(zoneOf(after, place)).toBe(zoneOf(before, place));
    expect(after.zones.map(({ along }) => along)).toEqual([
      [null, '96.5'],
      ['96.5', '146'],
      [null, '150'],
    ]);
  });

  it('leaves places where they are on drawings and pictures', () => {
    const drawn = {
      ...{ name: 'drawn', title: 'd', structure: 'Hull', seen_from: 'outside', box: [9, 9] },
      ...{
        x: { origin: 60, per_unit: 2.1 },
        y: { origin: 0, per_strake: 19 },
        lines: [],
        labels: [],
      },
    };
    const pictured = {
      ...{ name: 'sheet', structure: 'Hull', picture: {} },
      calibration: {
        to_picture: [2, 0, 10, 0, 3, 20, 0.001, 0, 1],
        points: [{ px: [1, 2], at: [100, 3] }],
        check: { px: [1, 2], at: [50, 3] },
      },
    };
    const views = [drawn, pictured] as Description['views'];
    const definition = definitionOf(moveDatum({ ...described, views }, 0, '-4')).definition;
    const [moved, photograph] = definition.views as unknown as [never, typeof pictured];
    expect(viewPoint(moved, definition as Definition, place)).toEqual(
      viewPoint(drawn as never, before, place),
    );
    const { to_picture, points, check } = photograph.calibration;
    const at = (m: number[], x: number, y: number) => {
      const [a, b, w] = [0, 3, 6].map(
        (row) => (m[row] ?? 0) * x + (m[row + 1] ?? 0) * y + (m[row + 2] ?? 0),
      );
      return [(a ?? 0) / (w ?? 1), (b ?? 0) / (w ?? 1)];
    };
    const [x, y] = at(to_picture, 96, 3);
    const [was_x, was_y] = at(pictured.calibration.to_picture, 100, 3);
    expect(x).toBeCloseTo(was_x ?? 0, 9);
    expect(y).toBeCloseTo(was_y ?? 0, 9);
    expect(points[0]?.at).toEqual([96, 3]);
    expect(check.at).toEqual([46, 3]);
  });

  it('does nothing for what is no figure', () => {
    expect(moveDatum(described, 0, 'x')).toBe(described);
    expect(moveDatum(described, 7, '1')).toBe(described);
  });
});
