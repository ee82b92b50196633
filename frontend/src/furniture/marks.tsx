import { GradeMark } from './grade.tsx';
import { GRADE_NAMES, type GradeFigure, type MarkState, STATE_DRAWN, stateWords } from './words.ts';

export interface KeyOfMarksProps {
  /** Grades used on the sheet; all five unless said. */
  grades?: GradeFigure[] | undefined;
  /** States used on the sheet, drawn on a grade 2. */
  states?: MarkState[] | undefined;
}

/** The key of marks that stands beside a title block. */
export function KeyOfMarks({ grades = [0, 1, 2, 3, 4], states = [] }: KeyOfMarksProps) {
  return (
    <>
      {grades.length > 0 && (
        <ul class="key-of-marks" aria-label="Key of marks: grades">
          {grades.map((grade) => (
            <li key={grade}>
              <GradeMark grade={grade} size={22} />
              {grade} {GRADE_NAMES[grade]}
            </li>
          ))}
        </ul>
      )}
      {states.length > 0 && (
        <ul class="key-of-marks key-of-marks-states" aria-label="Key of marks: states">
          {states.map((state) => (
            <li key={state}>
              <GradeMark grade={2} state={state} size={34} />
              <span>
                {stateWords(state)} <span class="drawn">{STATE_DRAWN[state]}</span>
              </span>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
