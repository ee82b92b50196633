import { textWidth } from './measured.ts';

export interface ScaleMember {
  name: string;
  /** Distance from the datum, in the structure's unit. */
  station: number;
  main?: boolean | undefined;
  half?: boolean | undefined;
}

/** Part of a structure that the lower strip and the view below it show. */
export interface ScaleWindow {
  from: number;
  to: number;
}

/** Left and right ends of a scale: the sheet frame. */
export const SCALE_MARGIN = 24;
export const HULL_PX_PER_UNIT = 8.55;
export const WING_PX_PER_UNIT = 12;

/** x of a station on a scale of this width; the view below uses the same x. */
export function stationX(window: ScaleWindow, width_px: number, station: number): number {
  const span = width_px - 2 * SCALE_MARGIN;
  return SCALE_MARGIN + ((station - window.from) * span) / (window.to - window.from);
}

/** Station under an x of a scale: the way back from stationX. */
export function stationAt(window: ScaleWindow, width_px: number, x: number): number {
  const span = width_px - 2 * SCALE_MARGIN;
  return window.from + ((x - SCALE_MARGIN) * (window.to - window.from)) / span;
}

/** Window of a scale with the position about a third along, kept within the structure. */
export function windowAround(
  station: number,
  whole: ScaleWindow,
  width_px: number,
  px_per_unit = HULL_PX_PER_UNIT,
): ScaleWindow {
  const length = (width_px - 2 * SCALE_MARGIN) / px_per_unit;
  if (length >= whole.to - whole.from) return { from: whole.from, to: whole.from + length };
  const wished = Math.round(station - length / 3);
  const from = Math.min(Math.max(wished, whole.from), whole.to - length);
  return { from, to: from + length };
}

/** The whole structure with a margin of two in a hundred at each end. */
export function wholeOf(members: ScaleMember[]): ScaleWindow {
  const stations = members.map((member) => member.station);
  const from = Math.min(...stations);
  const to = Math.max(...stations);
  const margin = (to - from) * 0.02 || 1;
  return { from: from - margin, to: to + margin };
}

const LEAST_TICK_PX = 3;

/** Whole units within a window, or tens or hundreds of them where they would run together; each
fifth one is longer. */
export function unitTicks(
  window: ScaleWindow,
  width_px = Number.POSITIVE_INFINITY,
): { station: number; long: boolean }[] {
  const px = (width_px - 2 * SCALE_MARGIN) / (window.to - window.from);
  let step = 1;
  while (px * step < LEAST_TICK_PX && step < 1e6) step *= 10;
  const ticks = [];
  for (let at = Math.ceil(window.from / step); at * step <= window.to; at += 1)
    ticks.push({ station: at * step, long: at % 5 === 0 });
  return ticks;
}

export interface LowerName {
  member: ScaleMember;
  x: number;
  anchor: 'start' | 'end';
  /** The station beside the name, where there is room for it. */
  with_station: boolean;
  size_px: number;
  is_bold: boolean;
  /** What the letters cover. */
  span: Span;
}

export interface Span {
  from: number;
  to: number;
}

const SIZES_PX = [20, 16, 14] as const;
const HALF_PX = 16;

/**
 * Names of the lower strip: on the side of the tick away from the flag, main members first. Where
 * bays are too narrow all are written smaller; where that is not enough the longest are left out,
 * and those that stay may cover the upper part of their neighbours' ticks.
 */
export function lowerNames(
  members: ScaleMember[],
  window: ScaleWindow,
  width_px: number,
  flag_x: number,
): LowerName[] {
  const strip = { members, window, width_px, flag_x };
  for (const size_px of SIZES_PX) {
    const { names, left_out } = namesAt(strip, size_px, false);
    if (left_out === 0) return inOrder(names);
  }
  return inOrder(namesAt(strip, SIZES_PX[2], true).names);
}

const inOrder = (names: LowerName[]) =>
  names.sort((one, other) => one.member.station - other.member.station);

interface Strip {
  members: ScaleMember[];
  window: ScaleWindow;
  width_px: number;
  flag_x: number;
}

/** Names of one size, and how many whole members have none for want of room between ticks. */
function namesAt({ members, window, width_px, flag_x }: Strip, size_px: number, thinned: boolean) {
  const shown = members.filter((member) => isWithin(window, member.station));
  const tickOf = (member: ScaleMember) => stationX(window, width_px, member.station);
  // The tick of a half frame begins below small letters.
  const ticks = shown.filter(({ half }) => !half || size_px === SIZES_PX[0]).map(tickOf);
  const names: LowerName[] = [];
  let left_out = 0;
  for (const member of [...shown].sort(byWeight)) {
    const tick = tickOf(member);
    const anchor = tick < flag_x ? 'end' : 'start';
    const beside = size_px > SIZES_PX[2] ? 6 : 4;
    const x = anchor === 'end' ? tick - beside : tick + beside;
    const others = thinned ? names.map((name) => tickOf(name.member)) : ticks;
    const inFrame = ({ from, to }: Span) =>
      from > SCALE_MARGIN - 4 && to < width_px - SCALE_MARGIN + 4;
    const free = (span: Span) =>
      inFrame(span) &&
      !others.some((other) => other !== tick && hits(span, { from: other, to: other }, 1)) &&
      !names.some((name) => hits(span, name.span, 5) || (thinned && isUnder(tick, name.span)));
    const letters_px = member.half ? Math.min(HALF_PX, size_px) : size_px;
    const is_bold = !member.half && letters_px > SIZES_PX[2];
    const name_px = textWidth(member.name, letters_px, is_bold);
    const bare = spanOf(x, anchor, name_px);
    const full = spanOf(x, anchor, name_px + 5 + textWidth(stationText(member.station), 14));
    const with_station = !member.half && !thinned && free(full);
    if (with_station || free(bare)) {
      const span = with_station ? full : bare;
      names.push({ member, x, anchor, with_station, size_px: letters_px, is_bold, span });
    } else if (!member.half && inFrame(bare)) left_out += 1;
  }
  return { names, left_out };
}

const isUnder = (tick: number, span: Span) => hits(span, { from: tick, to: tick }, 1);

/** Members whose tick stands under the name of another, so that only its foot is drawn. */
export function coveredTicks(
  names: readonly LowerName[],
  members: ScaleMember[],
  window: ScaleWindow,
  width_px: number,
): ScaleMember[] {
  return members.filter((member) => {
    const tick = stationX(window, width_px, member.station);
    return names.some((name) => name.member !== member && isUnder(tick, name.span));
  });
}

export interface UpperName {
  member: ScaleMember;
  x: number;
  inside: boolean;
}

/** Names of the upper strip: both ends and main members; they step aside for window and position. */
export function upperNames(
  members: ScaleMember[],
  whole: ScaleWindow,
  width_px: number,
  window: ScaleWindow,
  position_x: number,
): UpperName[] {
  const edges = [window.from, window.to].map((station) => stationX(whole, width_px, station));
  const bars: Span[] = [
    ...edges.map((edge) => ({ from: edge - 1, to: edge + 1 })),
    { from: position_x - 2, to: position_x + 2 },
  ];
  const taken: Span[] = [];
  const names: UpperName[] = [];
  for (const member of namedAbove(members)) {
    const half_px = textWidth(member.name, 14, true) / 2;
    const x = stepAside(stationX(whole, width_px, member.station), half_px, bars);
    const span = { from: x - half_px, to: x + half_px };
    if (span.from < SCALE_MARGIN - 8 || span.to > width_px - SCALE_MARGIN + 8) continue;
    if ([...taken, ...bars].some((other) => hits(span, other, 1))) continue;
    if (taken.some((other) => hits(span, other, 6))) continue;
    taken.push(span);
    names.push({ member, x, inside: x > (edges[0] ?? 0) && x < (edges[1] ?? 0) });
  }
  return names;
}

function namedAbove(members: ScaleMember[]): ScaleMember[] {
  const whole = members.filter((member) => !member.half);
  const ends = [whole[0], whole.at(-1)].filter((member) => member !== undefined);
  return [...new Set([...ends, ...whole.filter((member) => member.main)])];
}

/** Nearest x at which a name clears every bar. */
function stepAside(x: number, half_px: number, bars: Span[]): number {
  const sides = bars.flatMap((bar) => [bar.from - half_px - 3, bar.to + half_px + 3]);
  const tried = [x, ...sides].sort((one, other) => Math.abs(one - x) - Math.abs(other - x));
  const clear = tried.find(
    (at) => !bars.some((bar) => hits({ from: at - half_px, to: at + half_px }, bar, 1)),
  );
  return clear !== undefined && Math.abs(clear - x) < 28 ? clear : x;
}

function spanOf(x: number, anchor: 'start' | 'end', length: number): Span {
  return anchor === 'end' ? { from: x - length, to: x } : { from: x, to: x + length };
}

function hits(one: Span, other: Span, clear_px: number): boolean {
  return one.from - clear_px < other.to && one.to + clear_px > other.from;
}

function isWithin(window: ScaleWindow, station: number): boolean {
  return station >= window.from && station <= window.to;
}

function byWeight(one: ScaleMember, other: ScaleMember): number {
  const weight = (member: ScaleMember) => (member.half ? 2 : member.main ? 0 : 1);
  const longer = one.name.length - other.name.length;
  return weight(one) - weight(other) || longer || one.station - other.station;
}

/** "70", "148.5": no figure more than it has. */
export function stationText(station: number): string {
  return String(Math.round(station * 1000) / 1000);
}
