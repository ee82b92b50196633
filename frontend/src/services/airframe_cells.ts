/** Zones of one structure on its developed view: bands, gaps, overlaps. */

import type { Definition, Structure, Zone } from '../domain/place';

/** An area of the developed view: stations, and strakes as signed lines, port +, starboard −. */
export interface Area {
  hand: string;
  from: number;
  to: number;
  low: number;
  high: number;
  zones: string[];
}

export interface ZoneAreas {
  bands: Area[];
  gaps: Area[];
  overlaps: Area[];
}

/** Works out what the zones of a structure cover, between its first and last member. */
export function zoneAreas(definition: Definition, structure: Structure): ZoneAreas {
  const zones = definition.zones.filter((zone) => zone.structure === structure.name);
  const whole = wholeOf(structure);
  const sides = sidesOf(structure);
  const bands = zones.flatMap((zone) =>
    sides
      .filter((hand) => hand !== 'C' || structure.hands.length === 1 || zone.hand === 'C')
      .filter((hand) => zone.hand == null || zone.hand === hand)
      .flatMap((hand) => bandOf(zone, structure, hand, whole)),
  );
  const fields = sides.flatMap((hand) => fieldsOf(zones, structure, hand, whole));
  return {
    bands,
    gaps: merged(fields.filter((field) => field.zones.length === 0)),
    overlaps: merged(fields.filter((field) => field.zones.length > 1)),
  };
}

/** "Hull, port, F4 to F7, K to C: no zone". */
export function areaWords(structure: Structure, area: Area): string {
  const hand = { P: 'port', S: 'starboard', C: 'centreline' }[area.hand] ?? area.hand;
  const names = structure.strakes;
  const ends = [area.low, area.high].map(Math.abs).sort((a, b) => a - b);
  const strakes =
    names.length > 1 && area.hand !== 'C'
      ? `, ${names[ends[0] as number]} to ${names[Math.min(ends[1] as number, names.length - 1)]}`
      : '';
  const [from, to] = [area.from, area.to].map((station) => stationWords(structure, station));
  const zones = area.zones.length > 0 ? `in zones ${area.zones.join(' and ')}` : 'no zone';
  return `${structure.name}, ${hand}, ${from} to ${to}${strakes}: ${zones}`;
}

function stationWords(structure: Structure, station: number): string {
  const member = structure.members.find((one) => Number(one.station) === station);
  return member?.name ?? `${structure.axis} ${station}`;
}

type Ends = [from: number, to: number];

function wholeOf(structure: Structure): Ends {
  const stations = structure.members.map((one) => Number(one.station)).filter(Number.isFinite);
  return [Math.min(...stations), Math.max(...stations)];
}

/** The hands that are drawn; the keel line of two hands comes as C. */
function sidesOf({ hands }: Structure): string[] {
  return ['P', 'S', 'C'].filter((hand) => (hands as string[]).includes(hand));
}

function linesOf(structure: Structure, hand: string): number {
  if (hand === 'C' && structure.hands.length > 1) return 1;
  return Math.max(structure.strakes.length - 1, 1);
}

function signed(hand: string, low: number, high: number): [number, number] {
  return hand === 'S' ? [-high, -low] : [low, high];
}

function bandOf(zone: Zone, structure: Structure, hand: string, whole: Ends): Area[] {
  const [from, to] = stationsOf(zone, whole);
  const lines = linesOf(structure, hand);
  const [first, last] = zone.strakes ?? [0, lines];
  const [low, high] = [Math.max(first, 0), Math.min(last, lines)];
  if (!(from < to) || !(low < high)) return [];
  const [a, b] = signed(hand, low, high);
  return [{ hand, from, to, low: a, high: b, zones: [zone.zone] }];
}

function stationsOf(zone: Zone, [first, last]: Ends): Ends {
  const [begin, end] = zone.along ?? [null, null];
  const from = begin == null ? first : Math.max(Number(begin), first);
  const to = end == null ? last : Math.min(Number(end), last);
  return [from, to];
}

/** One hand cut at every edge of a zone, each piece with the zones that hold it. */
function fieldsOf(zones: readonly Zone[], structure: Structure, hand: string, whole: Ends): Area[] {
  const own = zones.filter((zone) => zone.hand == null || zone.hand === hand);
  const edges = own.flatMap((zone) => stationsOf(zone, whole));
  const [first, last] = whole;
  const cuts = [...new Set([first, last, ...edges])]
    .filter((cut) => cut >= first && cut <= last)
    .sort((a, b) => a - b);
  return Array.from({ length: linesOf(structure, hand) }, (_, line) => line).flatMap((line) =>
    cuts.slice(0, -1).map((from, at) => {
      const to = cuts[at + 1] as number;
      const [low, high] = signed(hand, line, line + 1);
      const names = own.filter((zone) => holds(zone, line, from)).map((zone) => zone.zone);
      return { hand, from, to, low, high, zones: [...new Set(names)] };
    }),
  );
}

function holds(zone: Zone, line: number, station: number): boolean {
  const [begin, end] = zone.along ?? [null, null];
  const [low, high] = zone.strakes ?? [0, Number.POSITIVE_INFINITY];
  return (
    low <= line &&
    line < high &&
    (begin == null || Number(begin) <= station) &&
    (end == null || station < Number(end))
  );
}

/** Joins fields of the same zones: along first, then across. */
function merged(fields: readonly Area[]): Area[] {
  const along = joined(fields, (one, next) =>
    one.low === next.low && one.high === next.high && one.to === next.from
      ? { ...one, to: next.to }
      : null,
  );
  return joined(along, (one, next) => {
    if (one.from !== next.from || one.to !== next.to) return null;
    if (one.high === next.low) return { ...one, high: next.high };
    return one.low === next.high ? { ...one, low: next.low } : null;
  });
}

function joined(fields: readonly Area[], join: (one: Area, next: Area) => Area | null): Area[] {
  const made: Area[] = [];
  for (const field of fields) {
    const at = made.findIndex(
      (one) =>
        one.hand === field.hand &&
        one.zones.join() === field.zones.join() &&
        join(one, field) !== null,
    );
    if (at < 0) made.push(field);
    else made[at] = join(made[at] as Area, field) as Area;
  }
  return made;
}
