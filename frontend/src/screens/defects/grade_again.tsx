import { decidingWords, gradeWords } from '../../domain/grading_words';
import type { DefectRow, Json, Shop } from '../../services/shop';
import { gradingOf, useLinked } from '../measure/graded';

/** What grading by the newest issue would change, before it is done. */
export function GradeAgain(props: { shop: Shop; row: DefectRow; values: Record<string, Json> }) {
  const { shop, row, values } = props;
  const { standard } = shop;
  const linked = useLinked(shop, row.record);
  if (!standard) return null;
  const then = gradingOf(values, linked, standard);
  return (
    <table class="grade-again">
      <tbody>
        <tr>
          <th scope="row">{row.graded_by}</th>
          <td>{row.overruled?.from_words ?? row.grade_words}</td>
          <td>{row.deciding}</td>
        </tr>
        <tr>
          <th scope="row">
            {standard.name} issue {standard.issue}
          </th>
          <td>{gradeWords(then)}</td>
          <td>{decidingWords(then)}</td>
        </tr>
      </tbody>
    </table>
  );
}
