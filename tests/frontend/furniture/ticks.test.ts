import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  coveredTicks,
  HULL_PX_PER_UNIT,
  lowerNames,
  type ScaleMember,
  stationAt,
  stationText,
  stationX,
  unitTicks,
  upperNames,
  wholeOf,
  windowAround,
} from '../../../frontend/src/furniture/ticks.ts';
import DEFINITION from '../../../sample_data/skinpin_demo/data/definition_2603.json';

const STATIONS = [8, 20, 32, 44, 57, 70, 83, 96, 108, 120, 132, 143, 154, 166, 178, 190, 203];
const MEMBERS: ScaleMember[] = STATIONS.map((station, at) => ({
  name: `F${at + 1}`,
  station,
  main: at === 12 || at === 14,
}));
MEMBERS.splice(12, 0, { name: '12A', station: 148.5, half: true });
const WINDOW = { from: 44.2, to: 44.2 + 752 / HULL_PX_PER_UNIT };

describe('the station scale', () => {
  it('puts a tick exactly on its station: 8.55 px to the inch from the frame at 24 px', () => {
    expect(stationX(WINDOW, 800, 44.2)).toBeCloseTo(24, 9);
    expect(stationX(WINDOW, 800, 57)).toBeCloseTo(133.44, 9);
    expect(stationX(WINDOW, 800, 72.5)).toBeCloseTo(265.965, 9);
    expect(stationX(WINDOW, 800, WINDOW.to)).toBeCloseTo(776, 9);
  });

  it('reads back the station it drew, on any window and width', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        number(-50, 400),
        number(1, 200),
        number(300, 2000),
        number(0, 1),
        (from, span, wide, share) => {
          const window = { from, to: from + span };
          const station = from + share * span;
          expect(stationAt(window, wide, stationX(window, wide, station))).toBeCloseTo(station, 6);
        },
      ),
    );
  });

  it('ticks every inch within the window and each fifth one longer', () => {
    const ticks = unitTicks({ from: 44.2, to: 50.5 });
    expect(ticks.map((tick) => tick.station)).toEqual([45, 46, 47, 48, 49, 50]);
    expect(ticks.filter((tick) => tick.long).map((tick) => tick.station)).toEqual([45, 50]);
  });

  it('ticks millimetres in tens or hundreds, where ones would run together', () => {
    const tens = unitTicks({ from: -450, to: 1550 }, 800);
    expect(tens[0]).toEqual({ station: -450, long: true });
    expect(tens[1]).toEqual({ station: -440, long: false });
    expect(unitTicks({ from: 0, to: 9000 }, 800)[1]?.station).toBe(100);
    expect(unitTicks({ from: 0, to: 85 }, 800)[1]?.station).toBe(1);
  });

  it('keeps the window on the structure at both ends', () => {
    const whole = wholeOf(MEMBERS);
    expect(windowAround(9, whole, 800).from).toBeCloseTo(whole.from, 9);
    expect(windowAround(203, whole, 800).to).toBeCloseTo(whole.to, 9);
    const middle = windowAround(120, whole, 800);
    expect(middle.to - middle.from).toBeCloseTo(752 / HULL_PX_PER_UNIT, 9);
    expect(middle.from).toBeLessThan(120);
    expect(middle.to).toBeGreaterThan(120);
  });
});

describe('names on the lower strip', () => {
  it('stand on the side of their tick away from the flag', () => {
    const flag = stationX(WINDOW, 800, 72.5);
    for (const name of lowerNames(MEMBERS, WINDOW, 800, flag)) {
      const tick = stationX(WINDOW, 800, name.member.station);
      if (name.anchor === 'end') expect(name.x).toBe(tick - 6);
      else expect(name.x).toBe(tick + 6);
      expect(name.anchor).toBe(tick < flag ? 'end' : 'start');
    }
  });

  it('carry the station wherever a bay is wide enough', () => {
    const names = lowerNames(MEMBERS, WINDOW, 800, stationX(WINDOW, 800, 72.5));
    expect(names.filter((name) => name.with_station).map((name) => name.member.name)).toEqual(
      expect.arrayContaining(['F5', 'F6', 'F7', 'F8', 'F9']),
    );
  });

  it('leave the station out before they run into a neighbour’s tick', () => {
    // F12 stands 5.5 in, 47 px, before half frame 12A.
    const window = { from: 88.2, to: 88.2 + 752 / HULL_PX_PER_UNIT };
    const names = lowerNames(MEMBERS, window, 800, stationX(window, 800, 132));
    const f12 = names.find((name) => name.member.name === 'F12');
    expect(f12?.with_station).toBe(false);
    expect(names.map((name) => name.member.name)).toContain('12A');
    expect(names.some((name) => name.member.half && name.with_station)).toBe(false);
  });
});

/** The frames of the demo's hull. */
const HULL: ScaleMember[] = (DEFINITION.structures[0]?.members ?? []).map((member) => ({
  name: member.name,
  station: Number(member.station),
  main: member.main === true,
  half: member.kind.startsWith('half'),
}));

/** Frames of a long structure, every fifth of them main. */
const many = (count: number): ScaleMember[] =>
  Array.from({ length: count }, (_, at) => ({
    ...{ name: `F${at + 1}`, station: 10 * at, main: at % 5 === 0 },
  }));

describe('names on a lower strip where frames crowd', () => {
  it.each([1600, 1280])('are all there, smaller, on the whole hull %i px wide', (wide) => {
    const whole = wholeOf(HULL);
    const window = { from: whole.from, to: whole.to + 0.03 * (whole.to - whole.from) };
    const names = lowerNames(HULL, window, wide - 48, 30);
    const named = names.map(({ member }) => member.name);
    for (const { name, half } of HULL) if (!half) expect(named).toContain(name);
    expect(new Set(names.filter(({ member }) => !member.half).map(({ size_px }) => size_px)).size)
      .toBe(1); // biome-ignore format: a line
    const covered = coveredTicks(names, HULL, window, wide - 48);
    expect(covered.filter(({ half }) => !half)).toEqual([]);
  });

  it('give way on a narrower one, the shortest and those of main frames last', () => {
    const whole = wholeOf(HULL);
    const named = lowerNames(HULL, whole, 1000, 30).map(({ member }) => member.name);
    expect(named).toEqual(expect.arrayContaining(['F1', 'F2', 'F8', 'F9', 'F13', 'F24', 'F29']));
    expect(named.length).toBeGreaterThan(15);
    expect(named.length).toBeLessThan(HULL.length - 1);
  });

  it('never overlap, and no name hides the tick of another name', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 160 }),
        fc.integer({ min: 300, max: 1600 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (count, wide, share) => {
          const members = many(count);
          const window = wholeOf(members);
          const flag = stationX(window, wide, share * 10 * (count - 1));
          const names = lowerNames(members, window, wide, flag);
          const spans = names.map(({ span }) => span).sort((one, two) => one.from - two.from);
          for (const [at, span] of spans.entries())
            expect(span.from).toBeGreaterThan((spans[at - 1]?.to ?? -99) + 4.9);
          const covered = coveredTicks(names, members, window, wide);
          for (const { member } of names) expect(covered).not.toContain(member);
          if (covered.length > 0) for (const { size_px } of names) expect(size_px).toBe(14);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('stay as large as they were where only one is cut off by the frame', () => {
    const cut = lowerNames(MEMBERS, { from: 150, to: 204 }, 800, 700);
    expect(cut.filter(({ member }) => !member.half).map(({ size_px }) => size_px)).toContain(20);
  });
});

describe('names on the upper strip', () => {
  it('step aside for the window’s edge and the position, main frames and ends only', () => {
    const whole = wholeOf(MEMBERS);
    for (const position of [60, 100, 150, 154, 178]) {
      const window = { from: position - 30, to: position + 58 };
      const bars = [window.from, window.to, position].map((at) => stationX(whole, 800, at));
      const names = upperNames(MEMBERS, whole, 800, window, bars[2] as number);
      expect(names.length).toBeGreaterThan(0);
      for (const name of names) {
        expect(['F1', 'F13', 'F15', 'F17']).toContain(name.member.name);
        for (const bar of bars) expect(Math.abs(name.x - bar)).toBeGreaterThan(8);
      }
    }
  });
});

it('writes a station with no figure more than it has', () => {
  expect([stationText(70), stationText(148.5), stationText(0.1 + 0.2)]).toEqual([
    '70',
    '148.5',
    '0.3',
  ]);
});
