import { type GradeFigure, GradeMark, type GradeMarkProps, type MarkState } from '../../furniture';
import type { DefectRow } from '../../services/shop';

/** What the mark of a record shows: its grade, whether it is known, and its state. */
export function markOf(row: DefectRow): Pick<GradeMarkProps, 'grade' | 'at_least' | 'state'> {
  return {
    grade: row.grade as GradeFigure | null,
    at_least: !row.grade_known,
    state: row.state as MarkState,
  };
}

/** The mark of a record; `plain` leaves its state out. */
export function RecordMark(
  props: { row: DefectRow; plain?: boolean | undefined } & Pick<GradeMarkProps, 'size' | 'spoken'>,
) {
  const { row, plain, ...more } = props;
  const { state, ...grade } = markOf(row);
  return <GradeMark {...grade} state={plain ? undefined : state} {...more} />;
}
