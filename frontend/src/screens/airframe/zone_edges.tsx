import type { Definition } from '../../domain/place';
import { type Box, clearest, type ScaleWindow } from '../../furniture';
import type { Paper } from './paper';
import type { RowWindow } from './window';

export type Zone = Definition['zones'][number];

/** Part of a zone within the window, as signed strake lines. */
interface Patch {
  zone: string;
  from: number;
  to: number;
  low: number;
  high: number;
  starts: boolean;
}

/** Edges of zones as chain lines. */
export function ZoneEdges(props: {
  zones: Zone[];
  rows: RowWindow;
  window: ScaleWindow;
  paper: Paper;
}) {
  const { zones, rows, window, paper } = props;
  return (
    <>
      {zones
        .flatMap((zone) => patchOf(zone, rows, window) ?? [])
        .filter((patch) => patch.starts)
        .map((patch) => (
          <line
            key={`${patch.zone} ${patch.low}`}
            class="ln-draw medium"
            stroke-dasharray="14 4 3 4"
            x1={paper.x(patch.from)}
            x2={paper.x(patch.from)}
            y1={paper.y(patch.low)}
            y2={paper.y(patch.high)}
          />
        ))}
    </>
  );
}

/** A zone's number and where it stands. */
export interface ZoneName {
  zone: string;
  box: Box;
}

const NAME_WIDE = 46;
const NAME_HIGH = 26;
// Right of the line that leads down to the picture.
const LEFT_PX = 58;

/** The numbers of zones in their outer strake, as far forward as there is a clear place. */
export function zoneNames(
  props: { zones: Zone[]; rows: RowWindow; window: ScaleWindow; paper: Paper },
  taken: readonly Box[],
): ZoneName[] {
  const { zones, rows, window, paper } = props;
  return zones.flatMap((zone) => {
    const patch = patchOf(zone, rows, window);
    if (!patch || paper.x(patch.to) - paper.x(patch.from) <= 60) return [];
    const box = clearest(placesOf(patch, paper), taken);
    return box ? [{ zone: patch.zone, box }] : [];
  });
}

function placesOf(patch: Patch, paper: Paper): Box[] {
  const is_low_out = Math.abs(patch.low) > Math.abs(patch.high);
  const outer = is_low_out ? patch.low : patch.high - 1;
  const y = (paper.y(outer) + paper.y(outer + 1)) / 2;
  const first = Math.max(paper.x(patch.from) + 4, LEFT_PX);
  const last = Math.max(first, paper.x(patch.to) - NAME_WIDE - 4);
  const places: Box[] = [];
  for (let left = first; left <= last; left += 12)
    places.push({
      ...{ left, right: left + NAME_WIDE, top: y - NAME_HIGH / 2, bottom: y + NAME_HIGH / 2 },
    });
  return places;
}

/** The numbers as they are drawn. */
export function ZoneNames({ names }: { names: readonly ZoneName[] }) {
  return (
    <>
      {names.map(({ zone, box }) => (
        <g key={`${zone} ${box.top}`}>
          <rect class="fill-ground" x={box.left} y={box.top} width={NAME_WIDE} height={NAME_HIGH} />
          <text class="px20 bold fill-draw" x={box.left + 4} y={box.top + 20}>
            {zone}
          </text>
        </g>
      ))}
    </>
  );
}

function patchOf(zone: Zone, rows: RowWindow, window: ScaleWindow): Patch | null {
  if (zone.hand === 'C') return null;
  const [begin, end] = zone.along ?? [null, null];
  const from = Math.max(begin === null ? window.from : Number(begin), window.from);
  const to = Math.min(end === null ? window.to : Number(end), window.to);
  const [first, last] = zone.strakes ?? [0, 99];
  const [near, far] = zone.hand === 'S' ? [-last, -first] : [first, last];
  const low = Math.max(near, rows.low);
  const high = Math.min(far, rows.high);
  if (from >= to || low >= high) return null;
  return { zone: zone.zone, from, to, low, high, starts: from > window.from };
}
