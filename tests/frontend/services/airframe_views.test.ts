import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  type Definition,
  type Place,
  placeAt,
  type Structure,
  viewPoint,
} from '../../../frontend/src/domain/place';
import { patchesOf } from '../../../frontend/src/screens/reports/patches';
import { developedView, withViews } from '../../../frontend/src/services/airframe_views';

const hull: Structure = {
  ...{ name: 'Hull', axis: 'Sta', unit: 'mm', datum: 'firewall', positive: 'aft' },
  ...{ hands: ['P', 'S', 'C'], strakes: ['K', 'B1', 'B2', 'C'], plating: [], faces: [] },
  members: [
    { name: 'Fr1', kind: 'frame', station: '-450' },
    { name: 'Fr2', kind: 'frame', station: '0', main: true },
    { name: 'Fr2A', kind: 'half frame', station: '150' },
    { name: 'Fr3', kind: 'frame', station: '600' },
  ],
};
const wing = (hand: 'P' | 'S'): Structure => ({
  ...{ ...hull, name: 'Wing', axis: 'WS', positive: 'outboard', strakes: [], hands: [hand] },
});
const definition = (...structures: Structure[]): Definition => ({
  ...{ name: 'Sedge', constructor: '4417', issue: '1', unit: 'mm' },
  ...{ structures, zones: [], views: [] },
});

describe('developedView', () => {
  it('puts every member at its true spacing within the box', () => {
    const view = developedView(hull);
    const xs = hull.members.map(
      ({ station }) => (view?.x.origin ?? 0) + (view?.x.per_unit ?? 0) * Number(station),
    );
    const scale = ((xs[3] ?? 0) - (xs[0] ?? 0)) / 1050;
    expect((xs[1] ?? 0) - (xs[0] ?? 0)).toBeCloseTo(450 * scale, 1);
    expect((xs[2] ?? 0) - (xs[1] ?? 0)).toBeCloseTo(150 * scale, 1);
    expect(Math.min(...xs)).toBeGreaterThan(0);
    expect(Math.max(...xs)).toBeLessThan(view?.box[0] ?? 0);
  });

  it('draws half frames dashed and short, main ones heavier', () => {
    const lines = developedView(hull)?.lines.slice(1, 5) ?? [];
    expect(lines.map(({ weight, kind }) => `${weight} ${kind}`)).toEqual([
      ...['thin full', 'medium full', 'thin hidden', 'thin full'],
    ]);
    const tall = (at: number) => {
      const ys = lines[at]?.points.map(([, y]) => y) ?? [];
      return Math.max(...ys) - Math.min(...ys);
    };
    expect(tall(2)).toBeCloseTo(tall(0) / 3, 0);
  });

  it('gives a place back where it is touched, on either hand and before the datum', () => {
    const drawn = withViews(definition(hull));
    const [view] = drawn.views;
    for (const hand of ['P', 'S'] as const)
      for (const [member, value] of [
        ['Fr1', '20.0'],
        ['Fr2A', '0.0'],
        ['Fr2', '100.0'],
      ] as const) {
        const place: Place = {
          ...{ structure: 'Hull', hand, member, strakes: ['B1', 'B2'], precision: 'exact' },
          offset: { value, unit: 'mm' },
        };
        const point = viewPoint(view as never, drawn, place);
        expect(placeAt(view as never, drawn, ...point)).toEqual(place);
      }
  });

  it('lays a port wing with its tip to the left, a starboard one to the right', () => {
    expect(developedView(wing('P'))?.x.per_unit).toBeLessThan(0);
    expect(developedView(wing('S'))?.x.per_unit).toBeGreaterThan(0);
    expect(developedView(wing('P'))?.title).toMatch(/OUTBOARD TO THE LEFT$/);
    expect(developedView(wing('S'))?.title).toMatch(/OUTBOARD TO THE RIGHT$/);
    const plated = developedView({ ...wing('P'), strakes: ['L1', 'L2'] });
    expect(plated?.x.per_unit).toBeLessThan(0);
    expect(plated?.title).toMatch(/SEEN FROM OUTSIDE, OUTBOARD TO THE LEFT$/);
    expect(developedView(wing('P'))?.y.per_strake).toBe(0);
    expect(developedView(wing('P'))?.forward).toBe('up');
  });

  it('leans a canted member from its keel station to its upper one, on both hands', () => {
    const canted = { ...hull.members[3], name: 'Fr3', kind: 'frame', station: '500' };
    const members = [...hull.members.slice(0, 3), { ...canted, upper_station: '600' }];
    const line = developedView({ ...hull, members } as Structure)?.lines[4];
    const xs = line?.points.map(([x]) => x) ?? [];
    expect(xs).toHaveLength(3);
    expect(xs[0]).toBe(xs[2]);
    expect(xs[0]).toBeGreaterThan(xs[1] ?? 0);
  });

  it('is none while there are no two members', () => {
    expect(developedView({ ...hull, members: hull.members.slice(0, 1) })).toBeNull();
    const typing = [{ name: 'F1', kind: 'frame', station: '' }];
    expect(developedView({ ...hull, members: typing })).toBeNull();
  });

  it('of 500 members takes less than 50 ms', () => {
    const members = Array.from({ length: 500 }, (_, at) => ({
      ...{ name: `F${at}`, kind: 'frame', station: String(at * 12) },
    }));
    const start = performance.now();
    expect(developedView({ ...hull, members })?.labels).toHaveLength(500 + 7);
    expect(performance.now() - start).toBeLessThan(50);
  });
});

describe('zones of a structure without strakes', () => {
  it('have the whole height of its outline to be touched on', () => {
    const drawn = withViews(definition(wing('P')));
    const zones = [
      { zone: '501', title: '', structure: 'Wing', along: ['0', '150'] as [string, string] },
    ];
    const [patch] = patchesOf({ ...drawn, zones }, drawn.views[0] as never);
    const ys = patch?.points.map(([, y]) => y) ?? [];
    expect(Math.max(...ys) - Math.min(...ys)).toBe(120);
  });
});

describe('withViews', () => {
  it('draws each structure that nobody has drawn, anew each time', () => {
    const once = withViews(definition(hull, wing('P')));
    expect(once.views.map(({ name }) => name)).toEqual(['Hull, developed', 'Wing, developed']);
    const longer = {
      ...hull,
      members: [...hull.members, { name: 'Fr4', kind: 'frame', station: '900' }],
    };
    const twice = withViews({ ...once, structures: [longer] });
    expect(twice.views).toHaveLength(1);
    expect(twice.views[0]?.labels.some(({ text }) => text === 'Fr4')).toBe(true);
  });

  it('leaves drawings as they are', () => {
    const file = '../../../sample_data/skinpin_demo/data/definition_2603.json';
    const marram = JSON.parse(readFileSync(new URL(file, import.meta.url), 'utf8')) as Definition;
    expect(withViews(marram)).toEqual(marram);
  });
});
