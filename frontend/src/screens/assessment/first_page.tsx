import { useState } from 'preact/hooks';
import { DeskKey, type GradeFigure, GradeMark, Key, KeyRow, SafetyLine } from '../../furniture';
import { type Counted, listAddress, NEW_BY, newBy, raisedAfter } from '../../services/figures';
import { QUESTION_WORDS, type Question } from '../../services/questions';
import type { DefectRow, ScreenProps, Shop } from '../../services/shop';
import type { TabletShown } from '../../services/tablets';
import { bookAddress, fileNumber } from '../defects/address';
import { BarTable } from '../figures/bars';
import { contactWords, useExchange } from '../frame/contact';
import { Backups } from './keeping';
import { daysAfter } from './order';
import type { Progress } from './sitting';
import { TabletsTable } from './tablets_table';

interface Props {
  shop: Shop;
  go: ScreenProps['go'];
  rows: DefectRow[];
  tablets: TabletShown[];
  /** Whether the server ever said here when tablets were seen. */
  seen: boolean;
  questions: readonly Question[];
  /** Day of the visit before this one; null: the first on this browser. */
  last_visit: string | null;
  progress: Progress;
  first: DefectRow | undefined;
}

/** What the lead sees first: what is new, which tablets are not in, what is asked. */
export function FirstPage(props: Props) {
  const { shop, progress, first, go } = props;
  const exchange = useExchange(shop);
  const left = progress.all - progress.done;
  return (
    <div class="first-page">
      <header class="first-head">
        <div>
          <h1>{left === 0 ? 'Nothing waits for you' : `${left} to assess`}</h1>
          <p>
            {progress.done > 0 && `${progress.done} of ${progress.all} decided today. `}
            {contactWords(exchange, shop.now())}
          </p>
          <SafetyLine wording="short" />
        </div>
        {first && (
          <Key
            label={`START: ${first.number}`}
            second={first.grade_words}
            kind="main"
            onPress={() => go(`/assessment/${fileNumber(first)}`)}
          />
        )}
      </header>
      <section>
        <TabletsTable tablets={props.tablets} asked={props.seen} away={exchange.away} />
      </section>
      <Backups shop={shop} />
      <NewSince {...props} />
      <Asked questions={props.questions} rows={props.rows} go={go} />
    </div>
  );
}

const SPANS: [label: string, days: number][] = [
  ['7 days', 7],
  ['30 days', 30],
  ['90 days', 90],
];
const FIRST_SPAN_DAYS = 30;
/** Before the first record of any book. */
const EVER = '0001-01-01';

function NewSince({ shop, rows, last_visit, go }: Props) {
  const [chosen, setChosen] = useState<string | null>(null);
  const today = shop.today();
  const since = chosen ?? last_visit ?? daysAfter(today, -FIRST_SPAN_DAYS);
  const fresh = raisedAfter(rows, since);
  const isWhole = since === EVER;
  return (
    <section class="new-since">
      <div class="new-head">
        <h2>
          {isWhole ? `All ${fresh.length} of the book` : `New since ${since}: ${fresh.length}`}
        </h2>
        <KeyRow apart="desk" label="New since">
          {last_visit && (
            <SinceKey label="Last visit" day={last_visit} since={since} onChoose={setChosen} />
          )}
          {SPANS.map(([label, days]) => (
            <SinceKey
              key={label}
              label={label}
              day={daysAfter(today, -days)}
              since={since}
              onChoose={setChosen}
            />
          ))}
          <SinceKey label="All" day={EVER} since={since} onChoose={setChosen} />
        </KeyRow>
      </div>
      {last_visit === null && chosen === null && (
        <p class="bars-aside">
          Your first visit on this browser: the last {FIRST_SPAN_DAYS} days are shown.
        </p>
      )}
      {fresh.length === 0 ? (
        <p>Nothing was raised since then.</p>
      ) : (
        <div class="new-counts">
          {NEW_BY.map((by) => (
            <BarTable
              key={by}
              caption={`By ${by}`}
              heads={[by, 'new']}
              bars={newBy(rows, since, by).map((one) => ({
                key: one.name,
                label: by === 'grade' ? <Graded of={one} /> : one.value,
                count: one.records.length,
                href: listAddress(one.name),
              }))}
              most={fresh.length}
              go={go}
            />
          ))}
        </div>
      )}
    </section>
  );
}

function SinceKey(props: {
  label: string;
  day: string;
  since: string;
  onChoose: (day: string) => void;
}) {
  return (
    <DeskKey
      label={props.label}
      chosen={props.day === props.since}
      onPress={() => props.onChoose(props.day)}
    />
  );
}

function Graded({ of }: { of: Counted }) {
  const figure = /\d/.exec(of.value)?.[0];
  return (
    <>
      <GradeMark grade={figure === undefined ? null : (Number(figure) as GradeFigure)} size={34} />
      {of.value}
    </>
  );
}

const MOST_SHOWN = 4;

/** Questions that somebody must settle, besides the order of assessment: the first of them. */
function Asked({ questions, rows, go }: Pick<Props, 'questions' | 'rows' | 'go'>) {
  if (questions.length === 0) return <p class="bars-aside">No question is open.</p>;
  const more = questions.length - MOST_SHOWN;
  return (
    <section>
      <h2 class="asked-head">Asked of you</h2>
      <ul class="asked">
        {questions.slice(0, MOST_SHOWN).map((question) => (
          <OneAsked key={question.key} question={question} rows={rows} go={go} />
        ))}
        {more > 0 && (
          <li>
            <p>{more === 1 ? '1 more question is open.' : `${more} more questions are open.`}</p>
            <DeskKey label="Questions" onPress={() => go('/questions')} />
          </li>
        )}
      </ul>
    </section>
  );
}

function OneAsked(props: { question: Question; rows: DefectRow[]; go: ScreenProps['go'] }) {
  const { question } = props;
  const row = props.rows.find(({ record }) => record === question.records[0]);
  return (
    <li>
      <p>
        <b>{QUESTION_WORDS[question.kind]}</b> {question.numbers}. {question.reason}
      </p>
      {row && (
        <DeskKey
          label={`Open ${row.number}`}
          onPress={() => props.go(bookAddress(fileNumber(row), {}))}
        />
      )}
    </li>
  );
}
