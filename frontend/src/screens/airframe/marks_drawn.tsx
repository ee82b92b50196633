import {
  type GradeFigure,
  type LabelledMark,
  type MarkState,
  type ScaleWindow,
  ViewMarks,
} from '../../furniture';
import type { DefectRow } from '../../services/shop';
import type { Paper } from './expansion';
import { nearestFirst } from './nearest';
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

/** Marks of the records in the window, each with its centre on its station, number and grade beside.

Where records crowd, those nearest to where the person is bear their words; the rest are ticks. */
export function Marks(props: MarksProps) {
  const { paper, rows } = props;
  const bounds = {
    left: 36,
    right: paper.width_px - 36,
    top: Math.min(paper.y(rows.low), paper.y(rows.high)) - 6,
    bottom: Math.max(paper.y(rows.low), paper.y(rows.high)) + 6,
  };
  const all = props.defects.flatMap((row) => markOf(row, props) ?? []);
  const here = {
    x: paper.x(props.spot.station),
    y: paper.y((props.spot.from + props.spot.to) / 2),
  };
  const [marks, ticks] = nearestFirst(all, here, MOST_MARKS);
  return (
    <>
      {ticks.length > 0 && <Ticks ticks={ticks} />}
      <ViewMarks marks={marks} bounds={bounds} />
      {ticks.length > 0 && (
        <text class="bold px16" x={bounds.left} y={bounds.bottom - 8}>
          {`nearest ${marks.length} of ${all.length} records named`}
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

function markOf(
  row: DefectRow,
  { structure, window, rows, paper }: MarksProps,
): LabelledMark | null {
  const station = Number(row.station);
  if (row.structure !== structure.name || !row.place || row.station === null) return null;
  if (station < window.from || station > window.to) return null;
  const spot = spotOf(structure, row.place, station);
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
