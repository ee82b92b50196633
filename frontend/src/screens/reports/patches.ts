import { zonesByHand } from '../../services/of_airframe';
import type { Definition } from '../../services/shop';

type View = Definition['views'][number];
type Zone = Definition['zones'][number];
type Point = [number, number];

/** Part of a drawing that means a zone. */
export interface Patch {
  zone: string;
  points: Point[];
}

/** The views on which zones are chosen: those that show several; the list has all. */
export function zoneViews(definition: Definition): View[] {
  const zoned = new Set(definition.zones.map((one) => one.structure));
  return definition.views.filter(
    (view) =>
      zoned.has(view.structure) &&
      view.lines !== undefined &&
      (view.y.per_strake !== undefined || /\bwing plan$/.test(view.name)) &&
      patchesOf(definition, view).length > 2,
  );
}

/** Where the hands lie on a view of the shell: their words with the middle of each half, in view units. */
export function handsOn(definition: Definition, view: View): { word: string; y: number }[] {
  const structure = definition.structures.find((one) => one.name === view.structure);
  const { origin, per_strake } = view.y;
  if (!structure || per_strake === undefined) return [];
  const half = (per_strake * (structure.strakes.length - 1)) / 2;
  const words = [
    { word: 'PORT', hand: 'P', y: origin - half },
    { word: 'STBD', hand: 'S', y: origin + half },
  ];
  return words
    .filter(({ hand }) => structure.hands.some((one) => one === hand))
    .map(({ word, y }) => ({ word, y }));
}

/** The zones that a view shows. */
export function patchesOf(definition: Definition, view: View): Patch[] {
  const structure = definition.structures.find((one) => one.name === view.structure);
  return definition.zones
    .filter((zone) => zone.structure === view.structure && zone.hand !== 'C')
    .flatMap((zone) => (view.y.per_strake ? zonesByHand(zone, structure) : [zone]))
    .flatMap((zone) => {
      const points = patchPoints(definition, view, zone);
      return points ? [{ zone: zone.zone, points }] : [];
    });
}

function patchPoints(definition: Definition, view: View, zone: Zone): Point[] | null {
  const structure = definition.structures.find((one) => one.name === zone.structure);
  if (!structure) return null;
  const stations = structure.members.map((member) => Number(member.station));
  const [first, last] = [Math.min(...stations), Math.max(...stations)];
  const [begin, end] = (zone.along ?? [null, null]).map((each) =>
    each === null ? null : Number(each),
  );
  const from = Math.max(first, begin ?? first);
  const to = Math.min(last, end ?? last);
  const xs = [from, to].map((station) => view.x.origin + view.x.per_unit * station);
  const [a, b] = xs as Point;
  const { per_strake } = view.y;
  // Without strakes a zone reaches over the whole outline.
  if (per_strake) {
    const [low, high] = zone.strakes ?? [0, structure.strakes.length - 1];
    const side = zone.hand === 'S' ? 1 : -1;
    const [near, far] = [low, high].map((strake) => view.y.origin + side * per_strake * strake);
    const rows = [near, far] as Point;
    return [
      [a, rows[0]],
      [b, rows[0]],
      [b, rows[1]],
      [a, rows[1]],
    ];
  }
  const [one, other] = [heights(view, a), heights(view, b)];
  if (!one || !other) return null;
  return [
    [a, one[0]],
    [b, other[0]],
    [b, other[1]],
    [a, one[1]],
  ];
}

/** Top and foot of a view's outline at an x, a hair within its ends. */
function heights(view: View, x: number): Point | null {
  const outline = view.lines.find((line) => line.closed && line.weight === 'medium');
  if (!outline) return null;
  const xs = outline.points.map(([each]) => each);
  const at = Math.min(Math.max(x, Math.min(...xs) + 0.01), Math.max(...xs) - 0.01);
  const ys = outline.points.flatMap(([ax, ay], i) => {
    const [bx, by] = outline.points[(i + 1) % outline.points.length] as Point;
    if (ax === bx || at < Math.min(ax, bx) || at > Math.max(ax, bx)) return [];
    return [ay + ((by - ay) * (at - ax)) / (bx - ax)];
  });
  return ys.length < 2 ? null : [Math.min(...ys), Math.max(...ys)];
}

/** Middle of a patch, where its number stands. */
export function middleOf({ points }: Patch): Point {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

/** How far a patch reaches along the drawing. */
export function acrossOf({ points }: Patch): number {
  const xs = points.map(([x]) => x);
  return Math.max(...xs) - Math.min(...xs);
}

/** Top and foot of what a view draws, with room for its outermost lines. */
export function drawnHeight(view: View): Point {
  const ys = view.lines.flatMap((line) => line.points.map(([, y]) => y));
  return [Math.min(...ys) - 6, Math.max(...ys) + 6];
}
