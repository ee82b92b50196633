import { GRADE_NAMES, type GradeFigure, GradeMark, SAFETY_SHORT } from '../../furniture';
import { PlateSection } from '../../furniture/section';
import type { Graded } from './graded';

/** How bad, and at once why: mark, words, deciding reasons with their source, and the plate cut through. */
export function GradeBlock({ graded, face }: { graded: Graded; face: string | undefined }) {
  const { grading, section } = graded;
  const grade = (grading?.grade ?? null) as GradeFigure | null;
  const at_least = grading !== null && !grading.known;
  const shown = (grading?.fired ?? [])
    .filter((rule) => rule.deciding)
    .slice(0, graded.missing_words ? 1 : 2);
  return (
    <section class="grade-block" aria-live="polite">
      <div>
        <GradeMark grade={grade} at_least={at_least} size={112} />
        {graded.loss_words && <p class="grade-safety">{graded.loss_words}</p>}
      </div>
      <div>
        <h2>
          {graded.words}
          {grade !== null && !at_least && <span class="grade-name"> {GRADE_NAMES[grade]}</span>}
        </h2>
        <p class="grade-safety">{SAFETY_SHORT}</p>
        {shown.map((rule) => (
          <p key={`${rule.rule} ${rule.reason}`} class="grade-reason">
            <strong>
              {rule.rule} {rule.reason}
            </strong>
            <span>
              {graded.standard_words} · {rule.basis.marker}
            </span>
          </p>
        ))}
        {graded.missing_words && <p class="grade-missing">{graded.missing_words}</p>}
        {grading?.hand_off && <p class="hand-off">To be seen by a licensed or qualified person.</p>}
      </div>
      {section && (
        <PlateSection {...section} width={104} face={face ? `${face} face` : undefined} />
      )}
    </section>
  );
}
