import { FigureCell, FigureTable } from '../../furniture';
import type { DefectRow } from '../../services/shop';
import { lacking } from '../airframe/still_to_finish';
import type { Answers } from './answers';
import { type Asked, alsoWords, cellWords } from './asked';
import { deeperWords, otherUnit } from './graded';
import { tagWords } from './tag_keys';

/** The measured values, what else was seen, the tag, and what is still to finish. */
export function Figures(props: {
  answers: Answers;
  row: DefectRow;
  /** Instrument of the day, as the caption of the depth says it: "DG-1, in date". */
  instrument: string;
}) {
  const { answers, row, instrument } = props;
  const { values, asked, active, page, pad, leaveFor } = answers;
  const needed = asked.filter((one) => !one.optional);
  const others = asked.length > needed.length;
  const tag = typeof values.tag === 'string' ? tagWords(values.tag) : null;
  const typed = active && pad.quantity !== null ? { [active.field]: pad.quantity } : {};
  const deeper = deeperWords({ ...values, ...typed });
  return (
    <FigureTable label="Figures">
      {needed.map((one) => {
        const words = cellWords(one, values[one.field], otherUnit);
        const live = one.field === active?.field && pad.typed.value !== '';
        return (
          <FigureCell
            key={one.field}
            caption={captionOf(one, words.hint && !live ? '' : instrument)}
            value={live ? pad.shown : words.value}
            unit={live ? pad.typed.unit : words.unit}
            second={(one.field === 'depth' && deeper) || (live ? pad.second : words.second)}
            hint={words.hint && !live}
            struck={words.struck && !live}
            active={one.field === active?.field}
            span={one.field === 'depth' && others ? 2 : 1}
            onOpen={() => void leaveFor(one.field)}
          />
        );
      })}
      {others && (
        <FigureCell
          caption="Also seen"
          value={alsoWords(asked, values)}
          words
          small
          active={page === 'also'}
          onOpen={() => void leaveFor('also')}
        />
      )}
      <FigureCell
        caption="Tag on the metal"
        value={tag ? tag.written : 'not on yet'}
        unit={tag?.check}
        words
        active={page === 'tag'}
        onOpen={() => void leaveFor('tag')}
      />
      <FigureCell caption="Still to finish" value={lackingWords(row)} words small />
    </FigureTable>
  );
}

function captionOf(one: Asked, instrument: string): string {
  return one.field === 'depth' && instrument ? `${one.label} · ${instrument}` : one.label;
}

function lackingWords(row: DefectRow): string {
  const lacks = lacking(row).map((one) => one.replace(/^no /, ''));
  return lacks.length > 0 ? lacks.join(', ') : 'nothing';
}
