import {
  type Box,
  type GradeFigure,
  type LabelledMark,
  type MarkState,
  markBox,
  type ScaleWindow,
  ViewMarks,
} from '../../furniture';
import type { DefectRow, Place } from '../../services/shop';
import { nearestFirst } from './nearest';
import type { Paper } from './paper';
import { type RowWindow, type Spot, type Structure, spotOf } from './window';

interface MarksProps {
  structure: Structure;
  defects: DefectRow[];
  window: ScaleWindow;
  rows: RowWindow;
  spot: Spot;
  paper: Paper;
}

/** More marks with their words than these hide each other, and the drawing under them. */
export const MOST_MARKS = 24;

/** Marks of the records in the window: those that bear their words, and the rest. */
export interface MarksHere {
  marks: LabelledMark[];
  ticks: LabelledMark[];
}

/** Every mark of the window, wherever in it the person is. */
export function marksIn(props: Omit<MarksProps, 'spot'>): LabelledMark[] {
  return props.defects.flatMap((row) => markOf(row, props) ?? []);
}

/** Where records crowd, those nearest to where the person is bear their words. */
export function marksHere({ paper, spot }: MarksProps, all: readonly LabelledMark[]): MarksHere {
  const here = { x: paper.x(spot.station), y: paper.y((spot.from + spot.to) / 2) };
  const [marks, ticks] = nearestFirst(all, here, MOST_MARKS);
  return { marks, ticks };
}

/** What the marks cover; no words of the drawing may lie there. */
export function marksCover({ marks }: MarksHere): Box[] {
  return marks.map(({ x, y, size = MARK_PX }) => markBox({ x, y, size }));
}

const MARK_PX = 34;

/** The marks, each with its centre on its station, number and grade beside, clear of other words. */
export function Marks(props: {
  here: MarksHere;
  rows: RowWindow;
  paper: Paper;
  words: readonly Box[];
}) {
  const { paper, rows } = props;
  const { marks, ticks } = props.here;
  const bounds = {
    left: 36,
    right: paper.width_px - 36,
    top: Math.min(paper.y(rows.low), paper.y(rows.high)) - 6,
    bottom: Math.max(paper.y(rows.low), paper.y(rows.high)) + 6,
  };
  return (
    <>
      {ticks.length > 0 && <Ticks ticks={ticks} />}
      <ViewMarks marks={marks} bounds={bounds} obstacles={props.words} />
      {ticks.length > 0 && (
        <text class="bold px16" x={bounds.left} y={bounds.bottom - 8}>
          {`nearest ${marks.length} of ${marks.length + ticks.length} records named`}
        </text>
      )}
    </>
  );
}

/** Records without their words, as ticks in one line of the drawing. */
function Ticks({ ticks }: { ticks: readonly LabelledMark[] }) {
  const line = ticks.map(({ x, y }) => `M${x.toFixed(1)} ${(y - 5).toFixed(1)}v10`).join('');
  return <path class="ln medium" d={line} />;
}

const SPOTS = new WeakMap<DefectRow, { structure: Structure; spot: Spot }>();

/** A row that changes is another object: its place is looked up once, not at every step. */
function spotOfRow(structure: Structure, row: DefectRow, place: Place, station: number): Spot {
  const kept = SPOTS.get(row);
  if (kept?.structure === structure) return kept.spot;
  const spot = spotOf(structure, place, station);
  SPOTS.set(row, { structure, spot });
  return spot;
}

function markOf(
  row: DefectRow,
  { structure, window, rows, paper }: Omit<MarksProps, 'spot'>,
): LabelledMark | null {
  const station = Number(row.station);
  if (row.structure !== structure.name || !row.place || row.station === null) return null;
  if (station < window.from || station > window.to) return null;
  const spot = spotOfRow(structure, row, row.place, station);
  const middle = (spot.from + spot.to) / 2;
  if (middle < rows.low || middle > rows.high) return null;
  return {
    id: row.record,
    number: row.number ?? '',
    grade: row.grade as GradeFigure | null,
    at_least: !row.grade_known,
    state: row.state as MarkState,
    x: paper.x(station),
    y: paper.y(middle),
  };
}
