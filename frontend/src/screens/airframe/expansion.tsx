import { useMemo, useRef } from 'preact/hooks';
import {
  type Box,
  type LabelledMark,
  NotLookedAt,
  type ScaleWindow,
  stationAt,
  stationX,
  useWidth,
} from '../../furniture';
import type { DefectRow } from '../../services/shop';
import { useSettled } from '../frame/after_paint';
import { READING } from './begun';
import type { Looks } from './cells';
import { flagsOf, HandFlags } from './hand_flags';
import { HatchLetters, hatchWords, type Run, unlookedRuns } from './hatch_words';
import { Marks, marksCover, marksHere, marksIn } from './marks_drawn';
import type { Paper } from './paper';
import { type Signable, Signed } from './signed';
import { type RowWindow, rowAt, rowY, type Spot, type Structure } from './window';
import { type Zone, ZoneEdges, ZoneNames, zoneNames } from './zone_edges';
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
  /** Records in the window. */
  defects: DefectRow[];
  /** Whether the book was read: before that nothing is hatched, and the drawing says so. */
  is_read: boolean;
  /** Place of the record whose picture lies below: a line leads down to it. */
  leader: Spot | null;
  /** What LOOKED AT would be signed for, every strake of the bay; null where there is no bay. */
  signed?: Signable | null;
  onPick: (station: number, row: number) => void;
}

/** Shell expansion under the station scale: the same x, strakes as rows; touch picks the bay. */
export function Expansion(props: ExpansionProps) {
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 752);
  const { structure, window, rows, inside, defects } = props;
  // The scale reaches 24 px beyond the frame on both sides, so its x lies 24 px further left here.
  const paper: Paper = {
    width_px,
    x: (station) => stationX(props.window, width_px + 48, station) - 24,
    y: (line) => rowY(rows, inside, TOP, ROW_PX, line),
  };
  const height_px = TOP + (rows.high - rows.low) * ROW_PX + 8;
  // Thousands of marks are worked out when the window moves, not at every step within it.
  const all = useMemo(
    () => marksIn({ structure, window, rows, defects, paper }),
    [structure, window, rows.low, rows.high, defects, inside, width_px],
  );
  const { looks, is_read, zones } = props;
  const drawing = [structure, window, rows.low, rows.high, inside, width_px, looks, is_read, zones];
  const runs = useMemo(() => runsOf(props), drawing);
  // What words are laid out by follows a step within the drawing when the step is painted.
  const spot = useSettled(props.spot, [...drawing, all]);
  const words = useMemo(
    () => wordsOf({ ...props, spot }, paper, all, runs),
    [spot, all, runs, ...drawing],
  );
  const ground = useMemo(
    () => (
      <>
        <Unlooked runs={runs} paper={paper} />
        <Frames {...props} paper={paper} />
        <Strakes {...props} paper={paper} />
        <ZoneEdges zones={zones} rows={rows} window={window} paper={paper} />
      </>
    ),
    [runs, ...drawing],
  );
  const named = useMemo(
    () => (
      <>
        {words.hatch.map((one) => (
          <HatchLetters key={one.box.top} words={one} />
        ))}
        <ZoneNames names={words.zones} />
        <HandFlags flags={words.flags} />
      </>
    ),
    [words],
  );
  const marks = useMemo(
    () => <Marks here={words.marks} rows={rows} paper={paper} words={words.boxes} />,
    [words],
  );
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
        {ground}
        {named}
        {props.leader && <Leader to={props.leader} paper={paper} height_px={height_px} />}
        {!props.is_read && <Reading paper={paper} height_px={height_px} />}
        {props.signed && <Signed signed={props.signed} rows={rows} paper={paper} />}
        <Cell spot={props.spot} structure={props.structure} paper={paper} />
        {marks}
        <Heading inside={inside} paper={paper} structure={props.structure} />
      </svg>
    </div>
  );
}

/** What stands in the drawing until the records and looks are read. */
function Reading({ paper, height_px }: { paper: Paper; height_px: number }) {
  return (
    <text class="bold px16 mid" x={paper.width_px / 2} y={height_px - ROW_PX - 20}>
      RECORDS AND LOOKS: {READING.toUpperCase()}
    </text>
  );
}

type Part = ExpansionProps & { paper: Paper };

/** Where nobody looked; nothing is said of it before the book is read. */
function runsOf({ structure, rows, window, looks, is_read }: ExpansionProps): Run[] {
  return is_read ? unlookedRuns(structure, rows, window, looks.looked) : [];
}

/** Where marks and words stand. Marks never move, so words of the drawing keep clear of them, and
labels of marks keep clear of those words. */
export function wordsOf(
  props: ExpansionProps,
  paper: Paper,
  all: readonly LabelledMark[] = marksIn({ ...props, paper }),
  runs: readonly Run[] = runsOf(props),
) {
  const { structure, rows, looks, spot } = props;
  const marks = marksHere({ ...props, paper }, all);
  const fixed = [...marksCover(marks), cellBox(spot, structure, paper)];
  const flags = flagsOf(rows, structure, paper, fixed);
  // NOT LOOKED AT is bound to its field, a zone's number has the whole zone to go to.
  const taken = [...fixed, ...flags.map(({ box }) => box)];
  const hatch = hatchWords(structure, runs, looks, paper, taken);
  const zones = zoneNames({ ...props, paper }, [...taken, ...hatch.map(({ box }) => box)]);
  const boxes = [...zones, ...hatch, ...flags].map(({ box }) => box);
  return {
    marks,
    runs,
    zones,
    hatch,
    flags,
    boxes: [...boxes, ...edgesOf(spot, structure, paper)],
  };
}

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

/** The cell chosen. */
function cellBox(spot: Spot, structure: Structure, paper: Paper): Box {
  const stations = structure.members.map((member) => Number(member.station));
  const before = stations.findLastIndex((station) => station <= spot.station);
  const at = Math.max(before, 0);
  const top = Math.min(paper.y(spot.from), paper.y(spot.to));
  return {
    left: paper.x(stations[at] ?? 0),
    right: paper.x(stations[at + 1] ?? (stations[at] ?? 0) + 6),
    top,
    bottom: top + Math.max(Math.abs(paper.y(spot.to) - paper.y(spot.from)), 4),
  };
}

const EDGE_PX = 6;

/** The upright edges of the cell chosen, which no label should hide. */
function edgesOf(spot: Spot, structure: Structure, paper: Paper): Box[] {
  const { left, right, top, bottom } = cellBox(spot, structure, paper);
  return [left, right].map((x) => ({
    ...{ left: x - EDGE_PX / 2, right: x + EDGE_PX / 2, top, bottom },
  }));
}

/** Framed outside its edges. */
function Cell({ spot, structure, paper }: { spot: Spot; structure: Structure; paper: Paper }) {
  const { left, right, top, bottom } = cellBox(spot, structure, paper);
  const x = paper.x(spot.station);
  return (
    <>
      <rect
        class="cell-frame"
        x={left - 2}
        y={top - 2}
        width={right - left + 4}
        height={bottom - top + 4}
      />
      <line class="ln thin" x1={x} x2={x} y1={0} y2={top} />
    </>
  );
}

function within(window: ScaleWindow, station: number): boolean {
  return station >= window.from && station <= window.to;
}
