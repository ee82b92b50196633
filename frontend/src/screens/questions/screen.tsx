import { useMemo } from 'preact/hooks';
import { DeskKey, Empty, Loading, Sheet, TitleBlock } from '../../furniture';
import { isHere } from '../../services/of_airframe';
import {
  QUESTION_KINDS,
  QUESTION_WORDS,
  type Question,
  type QuestionKind,
} from '../../services/questions';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { bookAddress, fileNumber } from '../defects/address';
import { DeskIndex } from '../frame/index_fields';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { useQuestions } from './asked';
import './screen.css';
import { RecordMark } from '../frame/record_mark';

/** Every open question of the book, in the order to take them; each opens its record. */
export default function Questions({ shop, go }: ScreenProps) {
  const every = useLive(shop, () => shop.book.defects(), []);
  const rows = useMemo(() => every?.filter((row) => isHere(shop, row)), [every, shop.airframe]);
  const asked = useQuestions(shop, rows);
  const title = useDeskTitle(shop, 'Questions');
  const questions = asked?.questions ?? [];
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/questions" go={go} asked={asked && questions.length} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {!asked || !rows ? (
        <Loading what="The questions" />
      ) : questions.length === 0 ? (
        <Empty
          looked_at
          title="No question is open"
          cells={`${rows.length} records looked through`}
        >
          <p>
            Two sightings that may be one, a wrong hand, two values or an entry that does not count
            come here by themselves. <a href="/defects">Go to the defect book</a>.
          </p>
        </Empty>
      ) : (
        <article class="questions">
          <header class="questions-head">
            <h1>
              {questions.length} {questions.length === 1 ? 'question' : 'questions'} open
            </h1>
            <p>{countsOf(questions)}. Nothing is joined or thrown away before somebody decides.</p>
          </header>
          <ol class="question-list">
            {questions.map((one, at) => (
              <OneQuestion key={one.key} question={one} at={at + 1} rows={rows} go={go} />
            ))}
          </ol>
        </article>
      )}
    </Sheet>
  );
}

/** "2 same defect, 1 does not count". */
function countsOf(questions: readonly Question[]): string {
  const count = (kind: QuestionKind) => questions.filter((one) => one.kind === kind).length;
  const told = QUESTION_KINDS.filter((kind) => count(kind) > 0);
  return told
    .map((kind) => `${count(kind)} × ${QUESTION_WORDS[kind].replace(/[?]| – choose/, '')}`)
    .join(', ');
}

function OneQuestion(props: {
  question: Question;
  at: number;
  rows: readonly DefectRow[];
  go: ScreenProps['go'];
}) {
  const { question, at, rows, go } = props;
  const row = rows.find(({ record }) => record === question.records[0]);
  if (!row) return null;
  const address = bookAddress(fileNumber(row), {});
  return (
    <li>
      <span class="question-at">{at * 10}</span>
      <RecordMark row={row} size={34} />
      <div>
        <p>
          <b>{QUESTION_WORDS[question.kind]}</b> {question.numbers}
          {question.is_later && ' · put off'}
        </p>
        <p class="question-why">{question.reason}</p>
        <p class="question-why">
          {row.place_words} · {row.kind_words?.toLowerCase()} · {row.grade_words} · {row.state}
        </p>
      </div>
      <DeskKey
        label={`Open ${row.number}`}
        spoken={`Open ${row.number}: ${QUESTION_WORDS[question.kind]} ${question.numbers}`}
        onPress={() => go(address)}
      />
    </li>
  );
}
