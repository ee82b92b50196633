import { NotLookedAt, type ScaleWindow } from '../../furniture';
import type { Run } from './hatch_words';
import type { Paper } from './paper';
import type { RowWindow, Structure } from './window';
import { type Zone, ZoneEdges } from './zone_edges';

export const ROW_PX = 41;

interface Part {
  structure: Structure;
  zones: Zone[];
  rows: RowWindow;
  window: ScaleWindow;
  paper: Paper;
}

/** What the drawing stands on: hatching, frames, strakes and the edges of zones. */
export function Ground(props: Part & { runs: readonly Run[] }) {
  const { runs, paper, zones, rows, window } = props;
  return (
    <>
      <Unlooked runs={runs} paper={paper} />
      <Frames {...props} />
      <Strakes {...props} />
      <ZoneEdges zones={zones} rows={rows} window={window} paper={paper} />
    </>
  );
}

function Frames({ structure, rows, paper, window }: Part) {
  const top = Math.min(paper.y(rows.low), paper.y(rows.high));
  const foot = Math.max(paper.y(rows.low), paper.y(rows.high));
  return (
    <g>
      {structure.members
        .filter((member) => within(window, Number(member.station)))
        .map((member) => (
          <line
            key={member.name}
            class={member.main ? 'ln-draw medium' : 'ln-draw thin'}
            stroke-dasharray={member.kind.startsWith('half') ? '7 4' : undefined}
            x1={paper.x(Number(member.station))}
            x2={paper.x(Number(member.station))}
            y1={top}
            y2={foot}
          />
        ))}
    </g>
  );
}

/** Strake lines with their names; keel, chine and gunwale heavy. */
function Strakes({ structure, rows, paper }: Part) {
  const lines = Array.from({ length: rows.high - rows.low + 1 }, (_, at) => rows.low + at);
  return (
    <g>
      {lines.map((line) => {
        const name = structure.strakes?.[Math.abs(line)] ?? '';
        const heavy = ['K', 'C', 'G', 'CL'].includes(name);
        return (
          <g key={line}>
            <line
              class={heavy ? 'ln-draw thick' : 'ln-draw thin'}
              x1={name ? 34 : 0}
              x2={paper.width_px}
              y1={paper.y(line)}
              y2={paper.y(line)}
            />
            <text class="px20 bold fill-draw strake-name" x={6} y={paper.y(line) + 7}>
              {name}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** Hatched where nobody looked. */
function Unlooked({ runs, paper }: { runs: readonly Run[]; paper: Paper }) {
  return (
    <>
      {runs.map((run) => (
        <NotLookedAt
          key={`${run.row}:${run.from}`}
          x={paper.x(run.from)}
          y={Math.min(paper.y(run.row), paper.y(run.row + 1))}
          width={paper.x(run.to) - paper.x(run.from)}
          height={ROW_PX}
          joins
        />
      ))}
    </>
  );
}

function within(window: ScaleWindow, station: number): boolean {
  return station >= window.from && station <= window.to;
}
