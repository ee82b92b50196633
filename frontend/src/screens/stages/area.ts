import { viewPoint } from '../../domain/place';
import type { Definition, Place } from '../../services/shop';
import type { AreaPart } from '../../services/stage_cells';

type View = Definition['views'][number];
type Structure = Definition['structures'][number];
type Point = [number, number];

/** Outline of part of an area on a view, as points; nothing where it is the whole structure. */
export function outlineOf(view: View, definition: Definition, part: AreaPart): Point[] {
  const structure = definition.structures.find((one) => one.name === part.structure);
  if (!structure || view.structure !== part.structure || !part.members) return [];
  const names = structure.members.map((member) => member.name);
  const [from, to] = part.members.map((name) => names.indexOf(name)) as [number, number];
  if (from < 0 || to < from) return [];
  const members = structure.members.slice(from, to + 1);
  const ends = members.flatMap(({ name, station }) => {
    const found = part.strakes
      ? strakeEnds(view, definition, structure, name, part.strakes)
      : lineEnds(view, view.x.origin + view.x.per_unit * Number(station));
    return found ? [found] : [];
  });
  return [...ends.map(([first]) => first), ...ends.reverse().map(([, second]) => second)];
}

/** The points of two strakes at a member. */
function strakeEnds(
  view: View,
  definition: Definition,
  structure: Structure,
  member: string,
  strakes: [string, string],
): [Point, Point] | null {
  const at = (strake: string): Point =>
    viewPoint(view, definition, {
      structure: structure.name,
      hand: structure.hands[0] ?? 'P',
      member,
      offset: { value: '0', unit: structure.unit },
      strakes: [strake, strake],
    } as unknown as Place);
  try {
    return [at(strakes[0]), at(strakes[1])];
  } catch {
    return null;
  }
}

/** Where the outline of the drawing begins and ends at an x: its closed lines cut there. */
function lineEnds(view: View, x: number): [Point, Point] | null {
  const heights = view.lines
    .filter((line) => line.closed && line.kind === 'full')
    .flatMap(({ points }) =>
      points.flatMap(([ax, ay], at) => {
        const [bx, by] = points[(at + 1) % points.length] as Point;
        if (ax === bx || x < Math.min(ax, bx) || x > Math.max(ax, bx)) return [];
        return [ay + ((by - ay) * (x - ax)) / (bx - ax)];
      }),
    );
  if (heights.length < 2) return null;
  return [
    [x, Math.min(...heights)],
    [x, Math.max(...heights)],
  ];
}

/** The view that shows most of the places, of those that are drawn at all. */
export function viewFor(
  definition: Definition,
  structures: readonly (string | null)[],
): View | null {
  const counts = new Map<string, number>();
  for (const name of structures) if (name) counts.set(name, (counts.get(name) ?? 0) + 1);
  const [most] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? [definition.structures[0]?.name];
  const own = definition.views.filter((view) => view.structure === most && view.lines);
  return own.find((view) => view.name === 'hull profile') ?? own[0] ?? null;
}
