import type { Definition } from '../../domain/place';
import type { ScaleWindow } from '../../furniture';
import type { Paper } from './expansion';
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

/** Edges of zones as chain lines, with the zone's number in its forward corner. */
export function ZoneEdges(props: {
  zones: Zone[];
  rows: RowWindow;
  window: ScaleWindow;
  paper: Paper;
}) {
  const { zones, rows, window, paper } = props;
  const patches = zones.flatMap((zone) => patchOf(zone, rows, window) ?? []);
  return (
    <>
      {patches.map((patch) => (
        <g key={patch.zone}>
          {patch.starts && (
            <line
              class="ln-draw medium"
              stroke-dasharray="14 4 3 4"
              x1={paper.x(patch.from)}
              x2={paper.x(patch.from)}
              y1={paper.y(patch.low)}
              y2={paper.y(patch.high)}
            />
          )}
          {paper.x(patch.to) - paper.x(patch.from) > 60 && <ZoneName patch={patch} paper={paper} />}
        </g>
      ))}
    </>
  );
}

function ZoneName({ patch, paper }: { patch: Patch; paper: Paper }) {
  const x = Math.max(paper.x(patch.from) + 8, 46);
  const outer = Math.abs(patch.low) > Math.abs(patch.high) ? patch.low : patch.high;
  const inner = outer === patch.low ? patch.low + 1 : patch.high - 1;
  const y = (paper.y(outer) + paper.y(inner)) / 2;
  return (
    <>
      <rect class="fill-ground" x={x - 4} y={y - 13} width={46} height={26} />
      <text class="px20 bold fill-draw" x={x} y={y + 7}>
        {patch.zone}
      </text>
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
