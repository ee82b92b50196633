import {
  type GradeFigure,
  type LabelledMark,
  type MarkState,
  type ScaleWindow,
  ViewMarks,
} from '../../furniture';
import type { DefectRow } from '../../services/shop';
import type { Paper } from './expansion';
import { type RowWindow, type Structure, spotOf } from './window';

interface MarksProps {
  structure: Structure;
  defects: DefectRow[];
  window: ScaleWindow;
  rows: RowWindow;
  paper: Paper;
}

/** Marks of the records in the window, each with its centre on its station, number and grade beside. */
export function Marks(props: MarksProps) {
  const { paper, rows } = props;
  const bounds = {
    left: 36,
    right: paper.width_px - 36,
    top: Math.min(paper.y(rows.low), paper.y(rows.high)) - 6,
    bottom: Math.max(paper.y(rows.low), paper.y(rows.high)) + 6,
  };
  const marks = props.defects.flatMap((row) => markOf(row, props) ?? []);
  return <ViewMarks marks={marks} bounds={bounds} />;
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
