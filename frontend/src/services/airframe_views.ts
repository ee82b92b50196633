/** Developed views drawn by code: members at true spacing across, strakes at even spacing along. */

import type { Definition, Structure, View, ViewLine } from '../domain/place';

const WIDE = 1000;
const MARGIN = 60;
const ROW = 19;
/** Where places of a structure without strakes are put, and half the height of its outline. */
const ONE_ROW = 60;

/** The name of the view that is made for a structure; no other view is ever made anew. */
export function developedName(structure: Pick<Structure, 'name'>): string {
  return `${structure.name}, developed`;
}

/** Puts a developed view in for each structure that nobody has drawn, and makes old ones anew. */
export function withViews(definition: Definition): Definition {
  const made = definition.structures.flatMap((structure) => {
    const others = definition.views.filter(
      (view) => view.structure === structure.name && !isMade(view),
    );
    return others.some(isDrawn) ? [] : [developedView(structure)].filter((view) => view !== null);
  });
  return { ...definition, views: [...definition.views.filter((view) => !isMade(view)), ...made] };
}

function isMade(view: View): boolean {
  return view.name.endsWith(', developed');
}

function isDrawn(view: View): boolean {
  return Array.isArray(view.lines);
}

/** The developed view of a structure; null while it has no two members to draw between. */
export function developedView(structure: Structure): View | null {
  const stations = structure.members.map((one) => Number(one.station)).filter(Number.isFinite);
  const [first, last] = [Math.min(...stations), Math.max(...stations)];
  if (stations.length < 2 || !(last > first)) return null;
  const turned = isTurned(structure);
  const scale = Number(((WIDE - 2 * MARGIN) / (last - first)).toPrecision(6)) * (turned ? -1 : 1);
  const [up, down] = reachOf(structure);
  const middle = MARGIN + up;
  const plan: Plan = {
    structure,
    x: { origin: round(MARGIN - scale * (turned ? last : first)), per_unit: scale },
    ...{ first, last, up: middle - up, down: middle + down, middle },
  };
  const plated = structure.strakes.length > 1;
  return {
    name: developedName(structure),
    ...headOf(structure, turned),
    structure: structure.name,
    box: [WIDE, Math.round(middle + down + MARGIN)],
    x: plan.x,
    y: { origin: middle, per_strake: plated ? ROW : 0 },
    lines: [outlineOf(plan), ...membersOf(plan), ...(plated ? strakesOf(plan) : [])],
    labels: [...memberLabels(plan), ...(plated ? strakeLabels(plan) : [])],
  };
}

interface Plan {
  structure: Structure;
  x: View['x'];
  first: number;
  last: number;
  up: number;
  down: number;
  middle: number;
}

/** Whether stations run to the left, so that the nose or the root lies where it does on the aircraft. */
function isTurned({ positive, hands }: Structure): boolean {
  if (/^(fwd|forward)/i.test(positive)) return true;
  return /^outboard/i.test(positive) && hands.length === 1 && hands[0] === 'P';
}

/** What stands over the view, and where the nose lies. */
function headOf(structure: Structure, turned: boolean) {
  const name = structure.name.toUpperCase();
  const along = /^(aft|fwd|forward)/i.test(structure.positive);
  const forward = along ? ('left' as const) : ('up' as const);
  const end = along ? '' : endWords(structure, turned);
  if (structure.strakes.length > 1)
    return { title: `${name}, DEVELOPED, SEEN FROM OUTSIDE${end}`, seen_from: 'outside', forward };
  if (/^(up|down)/i.test(structure.positive))
    return { title: `${name}, SEEN FROM THE SIDE`, seen_from: 'side', forward };
  return { title: `${name}, SEEN FROM ABOVE${end}`, seen_from: 'above', forward };
}

/** Which way the stations grow as they are drawn: "OUTBOARD TO THE LEFT". */
function endWords({ positive }: Structure, turned: boolean): string {
  const way = positive.trim().toUpperCase();
  return way ? `, ${way} TO THE ${turned ? 'LEFT' : 'RIGHT'}` : '';
}

/** How far the drawing reaches above and below the keel line: port lies uppermost. */
function reachOf({ strakes, hands }: Structure): [up: number, down: number] {
  if (strakes.length < 2) return [ONE_ROW, ONE_ROW];
  const far = (strakes.length - 1) * ROW;
  const up = hands.includes('P');
  const down = hands.includes('S') || !up;
  return [up ? far : 0, down ? far : 0];
}

function at(plan: Plan, station: number): number {
  return round(plan.x.origin + plan.x.per_unit * station);
}

function outlineOf(plan: Plan): ViewLine {
  const [a, b] = [at(plan, plan.first), at(plan, plan.last)];
  const points: [number, number][] = [
    [a, plan.up],
    [b, plan.up],
    [b, plan.down],
    [a, plan.down],
  ];
  return { points, weight: 'medium', kind: 'full', closed: true };
}

function membersOf(plan: Plan): ViewLine[] {
  return plan.structure.members.flatMap((member): ViewLine[] => {
    const [x, upper] = [member.station, upperOf(member)].map((text) => at(plan, Number(text)));
    if (x === undefined || upper === undefined || !Number.isFinite(x)) return [];
    const half = member.kind.startsWith('half');
    const [top, foot] = half ? halved(plan) : [plan.up, plan.down];
    return [
      {
        // A canted member leans from its keel station to the one at the deck, on both hands.
        points: lean(plan, x, upper, top, foot),
        weight: member.main ? 'medium' : 'thin',
        kind: half ? 'hidden' : 'full',
      },
    ];
  });
}

/** Where a canted member is at the deck or outboard edge. */
export function upperOf(member: Structure['members'][number]): string {
  const { upper_station } = member as { upper_station?: string };
  return upper_station ?? member.station;
}

function lean(plan: Plan, x: number, upper: number, top: number, foot: number) {
  const share = (y: number) =>
    Math.abs(y - plan.middle) / Math.max(plan.middle - plan.up, plan.down - plan.middle, 1);
  const point = (y: number): [number, number] => [round(x + (upper - x) * share(y)), round(y)];
  return x === upper ? [point(top), point(foot)] : [point(top), point(plan.middle), point(foot)];
}

function halved(plan: Plan): [number, number] {
  const third = (end: number) => plan.middle + (end - plan.middle) / 3;
  return [third(plan.up), third(plan.down)];
}

function strakesOf(plan: Plan): ViewLine[] {
  const [a, b] = [at(plan, plan.first), at(plan, plan.last)];
  return rowsOf(plan).map(({ y, line }) => ({
    points: [
      [a, y],
      [b, y],
    ],
    weight: line === 0 ? 'medium' : 'thin',
    kind: 'full',
  }));
}

function rowsOf(plan: Plan): { y: number; line: number }[] {
  const { strakes } = plan.structure;
  return strakes.flatMap((_, line) =>
    [-1, 1]
      .map((side) => ({ y: plan.middle + side * line * ROW, line: side * line }))
      .filter(({ y }) => y >= plan.up && y <= plan.down)
      .slice(0, line === 0 ? 1 : 2),
  );
}

function memberLabels(plan: Plan): View['labels'] {
  return plan.structure.members
    .filter((member) => Number.isFinite(Number(member.station)))
    .map((member) => ({
      x: at(plan, Number(member.station)),
      y: plan.up - (member.kind.startsWith('half') ? 8 : 20),
      text: member.name,
    }));
}

function strakeLabels(plan: Plan): View['labels'] {
  const right = Math.max(at(plan, plan.first), at(plan, plan.last)) + 6;
  return rowsOf(plan).map(({ y, line }) => ({
    x: right,
    y: y + 4,
    text: `${plan.structure.strakes[Math.abs(line)]}${line < 0 ? 'P' : line > 0 ? 'S' : ''}`,
    anchor: 'start',
  }));
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
