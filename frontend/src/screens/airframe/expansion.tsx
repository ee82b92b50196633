import type { ComponentChildren } from 'preact';
import { useId, useMemo, useRef } from 'preact/hooks';
import {
  type Box,
  type LabelledMark,
  type ScaleWindow,
  stationAt,
  stationX,
  useWidth,
} from '../../furniture';
import type { DefectRow } from '../../services/shop';
import { useSettled } from '../frame/after_paint';
import { READING } from './begun';
import type { Looks } from './cells';
import { Ground, ROW_PX } from './ground';
import { flagsOf, HandFlags } from './hand_flags';
import { HatchLetters, hatchWords, type Run, unlookedRuns } from './hatch_words';
import { Marks, marksCover, marksHere, marksIn } from './marks_drawn';
import type { Paper } from './paper';
import { type ReachName, reachNames, reachPath } from './reach';
import { type Signable, Signed } from './signed';
import { type RowWindow, rowAt, rowY, type Spot, type Structure } from './window';
import { type Zone, ZoneNames, zoneNames } from './zone_edges';
import './expansion.css';

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
  /** Records that begin before it and may reach into it. */
  before?: readonly DefectRow[];
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
  const { structure, rows, inside } = props;
  const paper = paperOf(props, rows, width_px);
  const height_px = TOP + (rows.high - rows.low) * ROW_PX + 8;
  const { ground, named, marks, rolled_px } = useDrawn(props, paper);
  const rolled = { rolled_px, height_px, width_px };
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
        <Rolled {...rolled}>
          {ground}
          {named}
        </Rolled>
        {props.leader && <Leader to={props.leader} paper={paper} height_px={height_px} />}
        {!props.is_read && <Reading paper={paper} height_px={height_px} />}
        {props.signed && <Signed signed={props.signed} rows={rows} paper={paper} />}
        <Cell spot={props.spot} structure={structure} paper={paper} />
        <Rolled {...rolled}>{marks}</Rolled>
        <Heading inside={inside} paper={paper} structure={structure} />
      </svg>
    </div>
  );
}

/** Where stations and strake lines of the window lie, px. */
function paperOf({ window, inside }: ExpansionProps, rows: RowWindow, width_px: number): Paper {
  return {
    width_px,
    // The scale reaches 24 px beyond the frame on both sides: its x lies 24 px further left here.
    x: (station) => stationX(window, width_px + 48, station) - 24,
    y: (line) => rowY(rows, inside, TOP, ROW_PX, line),
  };
}

/** The costly parts of the drawing, as they were drawn last, and how far they have to be rolled to
lie where they belong now. A step is answered by rolling them; they are drawn anew once that is
painted. */
function useDrawn(props: ExpansionProps, now: Paper) {
  const { structure, window, inside, defects, before, zones, looks, is_read } = props;
  const { width_px } = now;
  const others = [structure, window, inside, width_px, looks, is_read, zones, before];
  const { rows, spot } = useSettledSpot(props, [...others, defects]);
  const part = { ...props, rows, spot };
  const paper = paperOf(props, rows, width_px);
  const drawing = [rows, ...others];
  // Thousands of marks are worked out when the window moves, not at every step within it.
  const all = useMemo(() => marksIn({ ...part, paper }), [rows, ...others.slice(0, 4), defects]);
  const runs = useMemo(() => runsOf(part), drawing);
  const words = useMemo(() => wordsOf(part, paper, all, runs), [spot, all, runs, ...drawing]);
  const ground = useMemo(() => <Ground {...part} runs={runs} paper={paper} />, [runs, ...drawing]);
  const named = useMemo(() => <Named words={words} />, [words]);
  const marks = useMemo(
    () => (
      <>
        <path
          class="ln medium reach"
          d={reachPath(structure, rows, paper, [...(before ?? []), ...defects])}
        />
        <Marks here={words.marks} rows={rows} paper={paper} words={words.boxes} />
      </>
    ),
    [words],
  );
  return { ground, named, marks, rolled_px: now.y(0) - paper.y(0) };
}

/** What the drawing is laid out by follows a step when the step is painted; a leap at once, for
then nothing that is drawn is still in sight. */
function useSettledSpot({ rows, spot }: ExpansionProps, inputs: readonly unknown[]) {
  const { low, high } = rows;
  const wished = useMemo(() => ({ rows, spot }), [low, high, spot]);
  const last = useRef({ low, leaps: 0 });
  if (Math.abs(low - last.current.low) > STEP_ROWS) last.current.leaps += 1;
  last.current.low = low;
  return useSettled(wished, [...inputs, high - low, last.current.leaps]);
}

const STEP_ROWS = 2;

/** What was drawn for other rows, moved to where it belongs and cut off at the frame. */
function Rolled(props: {
  rolled_px: number;
  height_px: number;
  width_px: number;
  children: ComponentChildren;
}) {
  const id = useId();
  const { rolled_px, height_px, width_px } = props;
  const top = TOP - MARGIN;
  return (
    <g clip-path={rolled_px ? `url(#${id})` : undefined}>
      {rolled_px !== 0 && (
        <clipPath id={id}>
          <rect x={-MARGIN} y={top} width={width_px + 2 * MARGIN} height={height_px - top} />
        </clipPath>
      )}
      <g transform={rolled_px ? `translate(0 ${rolled_px})` : undefined}>{props.children}</g>
    </g>
  );
}

/** Half a strake name stands above the first line. */
const MARGIN = 10;

function Named({ words }: { words: ReturnType<typeof wordsOf> }) {
  return (
    <>
      {words.hatch.map((one) => (
        <HatchLetters key={one.box.top} words={one} />
      ))}
      <ZoneNames names={words.zones} />
      <HandFlags flags={words.flags} />
      <ReachNames names={words.reaches} />
    </>
  );
}

/** Numbers of what begins before the window: it has no mark here. */
function ReachNames({ names }: { names: readonly ReachName[] }) {
  return (
    <>
      {names.map(({ number, box }) => (
        <text key={number} class="bold px16" x={box.left + 4} y={box.bottom - 6}>
          {number}
        </text>
      ))}
    </>
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
  const reaches = reachNames(structure, rows, paper, props.before ?? [], fixed);
  const taken = [...fixed, ...[...flags, ...reaches].map(({ box }) => box)];
  const hatch = hatchWords(structure, runs, looks, paper, taken);
  const zones = zoneNames({ ...props, paper }, [...taken, ...hatch.map(({ box }) => box)]);
  const boxes = [...zones, ...hatch, ...flags, ...reaches].map(({ box }) => box);
  return {
    marks,
    runs,
    zones,
    hatch,
    flags,
    reaches,
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
