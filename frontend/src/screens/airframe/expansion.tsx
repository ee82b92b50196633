import { useRef } from 'preact/hooks';
import {
  NotLookedAt,
  type ScaleWindow,
  stationAt,
  stationX,
  textWidth,
  useWidth,
} from '../../furniture';
import type { DefectRow } from '../../services/shop';
import { cellName, type Looks } from './cells';
import { Marks } from './marks_drawn';
import { type RowWindow, rowAt, rowY, type Spot, type Structure } from './window';
import type { Zone } from './zone_edges';
import { ZoneEdges } from './zone_edges';
import './expansion.css';

export const ROW_PX = 41;
const TOP = 40;

export interface ExpansionProps {
  structure: Structure;
  zones: Zone[];
  window: ScaleWindow;
  rows: RowWindow;
  spot: Spot;
  inside: boolean;
  looks: Looks;
  defects: DefectRow[];
  /** Place of the record whose picture lies below: a line leads down to it. */
  leader: Spot | null;
  onPick: (station: number, row: number) => void;
}

/** Where things lie on a drawing: x of a station, y of a strake line. */
export interface Paper {
  width_px: number;
  x: (station: number) => number;
  y: (line: number) => number;
}

/** Shell expansion under the station scale: the same x, strakes as rows; touch picks the bay. */
export function Expansion(props: ExpansionProps) {
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 752);
  const { rows, inside } = props;
  // The scale reaches 24 px beyond the frame on both sides, so its x lies 24 px further left here.
  const paper: Paper = {
    width_px,
    x: (station) => stationX(props.window, width_px + 48, station) - 24,
    y: (line) => rowY(rows, inside, TOP, ROW_PX, line),
  };
  const height_px = TOP + (rows.high - rows.low) * ROW_PX + 8;
  const pick = (event: MouseEvent) => {
    const frame = (event.currentTarget as Element).getBoundingClientRect();
    props.onPick(
      stationAt(props.window, width_px + 48, event.clientX - frame.left + 24),
      rowAt(rows, inside, TOP, ROW_PX, event.clientY - frame.top),
    );
  };
  return (
    <div class="expansion" ref={box}>
      <svg width={width_px} height={height_px} onClick={pick} aria-hidden="true">
        <Unlooked {...props} paper={paper} />
        <Frames {...props} paper={paper} />
        <Strakes {...props} paper={paper} />
        <ZoneEdges zones={props.zones} rows={rows} window={props.window} paper={paper} />
        {props.leader && <Leader to={props.leader} paper={paper} height_px={height_px} />}
        <Marks {...props} paper={paper} />
        <Cell spot={props.spot} structure={props.structure} paper={paper} />
        <Heading inside={inside} paper={paper} structure={props.structure} />
      </svg>
    </div>
  );
}

type Part = ExpansionProps & { paper: Paper };

function Heading({
  inside,
  paper,
  structure,
}: {
  inside: boolean;
  paper: Paper;
  structure: Structure;
}) {
  const plated = (structure.strakes?.length ?? 0) > 1;
  const title = plated
    ? `SHELL EXPANSION, SEEN FROM ${inside ? 'INSIDE' : 'OUTSIDE'}`
    : structure.name.toUpperCase();
  const wide = paper.width_px > 640;
  return (
    <>
      <path class="ln medium" d="M14 20H42" />
      <path class="fill-ink" d="M10 20l12 -6v12z" />
      <text class="px16 bold" x={50} y={26}>
        {structure.axis === 'Sta' ? 'FWD' : 'INBD'}
      </text>
      <text class="px16 bold end" x={paper.width_px - 12 - (wide ? HINT_PX : 0)} y={26}>
        {title}
      </text>
      {wide && (
        <text class="px16 end" x={paper.width_px - 12} y={26}>
          touch picks the bay
        </text>
      )}
    </>
  );
}

const HINT_PX = 156;
const PICTURE_X = 48;

/** From the place of a record to its picture, which lies below at the left. */
function Leader({ to, paper, height_px }: { to: Spot; paper: Paper; height_px: number }) {
  const x = paper.x(to.station);
  const y = (paper.y(to.from) + paper.y(to.to)) / 2;
  if (x < PICTURE_X || x > paper.width_px) return null;
  return <path class="ln medium leader" d={`M${x} ${y}H${PICTURE_X}V${height_px + 10}`} />;
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
      <HandFlags rows={rows} paper={paper} structure={structure} />
    </g>
  );
}

function HandFlags({ rows, paper, structure }: Pick<Part, 'rows' | 'paper' | 'structure'>) {
  if (structure.hands.length < 2) return null;
  const flags = [
    { word: 'STBD', from: rows.low, to: Math.min(rows.high, 0) },
    { word: 'PORT', from: Math.max(rows.low, 0), to: rows.high },
  ].filter((flag) => flag.to - flag.from > 0);
  return (
    <>
      {flags.map((flag) => {
        const y = (paper.y(flag.from) + paper.y(flag.to)) / 2;
        const x = paper.width_px - 18;
        return (
          <g key={flag.word} transform={`translate(${x} ${y}) rotate(-90)`}>
            <rect class="hand-flag" x={-36} y={-13} width={72} height={26} />
            <text class="px16 bold mid fill-draw" y={6}>
              {flag.word}
            </text>
          </g>
        );
      })}
    </>
  );
}

/** Hatched where nobody looked; the widest field of each hand carries the words. */
function Unlooked({ structure, rows, window, looks, paper }: Part) {
  const runs = unlookedRuns(structure, rows, window, looks.looked);
  const fields = [runs.filter((run) => run.row < 0), runs.filter((run) => run.row >= 0)];
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
      {fields.map((field) => {
        const widest = widestField(field);
        const why = widest && blockedAll(structure, widest, looks);
        return (
          widest && <HatchLetters key={widest.row} field={widest} paper={paper} why={why ?? null} />
        );
      })}
    </>
  );
}

interface Field extends Run {
  /** Row after the last of the field. */
  end: number;
}

/** The widest run with the rows of the same extent that follow it. */
function widestField(runs: Run[]): Field | null {
  const [first] = [...runs].sort((one, other) => other.to - other.from - (one.to - one.from));
  if (!first) return null;
  const same = runs.filter((run) => run.from === first.from && run.to === first.to);
  const rows = same.map((run) => run.row);
  return { ...first, row: Math.min(...rows), end: Math.max(...rows) + 1 };
}

/** Why nobody looked at a field, where one reason was given for all of its cells. */
function blockedAll(structure: Structure, field: Field, looks: Looks): string | null {
  const reasons = new Set<string | undefined>();
  for (const [bay, member] of structure.members.slice(0, -1).entries()) {
    const next = Number(structure.members[bay + 1]?.station);
    if (next <= field.from || Number(member.station) >= field.to) continue;
    for (let row = field.row; row < field.end; row += 1)
      reasons.add(looks.blocked.get(cellName(bay, row)));
  }
  const [only, other] = reasons;
  return other === undefined && reasons.size === 1 ? (only ?? null) : null;
}

/** NOT LOOKED AT on ground, in one line or two, and why, where the field has room for it. */
function HatchLetters(props: { field: Field; paper: Paper; why: string | null }) {
  const { field, paper, why } = props;
  const from = Math.max(paper.x(field.from), 36);
  const to = Math.min(paper.x(field.to), paper.width_px - 34);
  const lines = to - from > 150 ? ['NOT LOOKED AT'] : ['NOT', 'LOOKED AT'];
  const wide = lines.length === 1 ? 140 : 96;
  if (to - from < wide) return null;
  const rows_px = (field.end - field.row) * ROW_PX;
  const has_room = why !== null && textWidth(why, 16) < to - from - 8;
  if (why && has_room && rows_px > 20 * (lines.length + 1) + 6) lines.push(why);
  const x = (from + to) / 2;
  const y = (paper.y(field.row) + paper.y(field.end)) / 2 - 10 * (lines.length - 1);
  return (
    <>
      <rect
        class="fill-ground"
        x={x - wide / 2}
        y={y - 14}
        width={wide}
        height={20 * lines.length + 6}
      />
      {lines.map((line, at) => (
        <text
          key={line}
          class={line === why ? 'px16 mid' : 'bold px16 mid'}
          x={x}
          y={y + 5 + 20 * at}
        >
          {line}
        </text>
      ))}
    </>
  );
}

interface Run {
  row: number;
  from: number;
  to: number;
}

/** Stretches of following cells of one strake that nobody looked at, within the window. */
export function unlookedRuns(
  structure: Structure,
  rows: RowWindow,
  window: ScaleWindow,
  looked: Set<string>,
): Run[] {
  const runs: Run[] = [];
  for (let row = rows.low; row < rows.high; row += 1) {
    let open: Run | null = null;
    for (let bay = 0; bay + 1 < structure.members.length; bay += 1) {
      const from = Math.max(Number(structure.members[bay]?.station), window.from);
      const to = Math.min(Number(structure.members[bay + 1]?.station), window.to);
      if (to <= from || looked.has(cellName(bay, row))) open = null;
      else if (open) open.to = to;
      else {
        open = { row, from, to };
        runs.push(open);
      }
    }
  }
  return runs;
}

/** The cell chosen, framed outside its edges. */
function Cell({ spot, structure, paper }: { spot: Spot; structure: Structure; paper: Paper }) {
  const stations = structure.members.map((member) => Number(member.station));
  const at = Math.max(
    stations.findLastIndex((station) => station <= spot.station),
    0,
  );
  const from = paper.x(stations[at] ?? 0);
  const to = paper.x(stations[at + 1] ?? (stations[at] ?? 0) + 6);
  const y = Math.min(paper.y(spot.from), paper.y(spot.to));
  const height = Math.max(Math.abs(paper.y(spot.to) - paper.y(spot.from)), 4);
  return (
    <>
      <rect class="cell-frame" x={from - 2} y={y - 2} width={to - from + 4} height={height + 4} />
      <line class="ln thin" x1={paper.x(spot.station)} x2={paper.x(spot.station)} y1={0} y2={y} />
    </>
  );
}

function within(window: ScaleWindow, station: number): boolean {
  return station >= window.from && station <= window.to;
}
