import type { Condition, Survey } from '../../domain/rivet_line';
import { FigureLines, RIVET_WORDS, RivetHead, type RivetState, SafetyLine } from '../../furniture';
import type { DefectRow, Definition, Shop } from '../../services/shop';
import { useLive } from '../live';
import { alongWords, lineOf, type RecordedLine, runText, stateText, surveyOf } from './rivet_words';
import { SevenHoles } from './seven_holes';

/** The rivet lines that name a record, by name. */
export function useRivetLines(shop: Shop, record: string): RecordedLine[] {
  const found = useLive(shop, () => shop.book.related(record, 'rivet_line'), [record]) ?? [];
  return found.map(lineOf).sort((a, b) => a.name.localeCompare(b.name));
}

/** Each line hole by hole, as found and as now, with its shares and what every hole takes next. */
export function RivetLines(props: {
  lines: RecordedLine[];
  row: DefectRow;
  definition: Definition | null;
}) {
  return (
    <>
      {props.lines.map((line) => (
        <OneLine key={line.record} {...props} recorded={line} />
      ))}
      <div class="record-safety">
        <SafetyLine wording="full" />
      </div>
    </>
  );
}

function OneLine(props: { recorded: RecordedLine; row: DefectRow; definition: Definition | null }) {
  const { recorded, row, definition } = props;
  const { line, name } = recorded;
  const { survey, problem } = surveyOf(line);
  if (!survey)
    return (
      <p class="no-view">
        {name} can’t be read: {problem}
      </p>
    );
  return (
    <section class="rivet-line-sheet">
      <header class="line-head">
        <h2>
          {name} · {survey.holes} rivets {line.diameter}
          {line.pitch && `, pitch ${line.pitch.value} ${line.pitch.unit}`}
        </h2>
        <p>
          {[row.structure, alongWords(recorded, row, definition), survey.bearing]
            .filter(Boolean)
            .join(' · ')}
        </p>
      </header>
      <HoleRow title="AS FOUND" states={line.as_found} condition={survey.as_found} />
      <HoleRow title="AS NOW" states={line.as_now} condition={survey.as_now} />
      <SevenHoles
        name={name}
        found={line.as_found}
        now={line.as_now}
        worst={middleOf(survey.as_now) ?? middleOf(survey.as_found) ?? 1}
      />
      <div class="line-figures">
        <ConditionLines title="As found" condition={survey.as_found} />
        <ConditionLines title="As now" condition={survey.as_now} />
      </div>
      <Decisions survey={survey} />
      <KeyOfHeads states={line.as_found + line.as_now} />
    </section>
  );
}

/** The middle of the longest run that is not effective. */
function middleOf({ run: { from, to } }: Condition): number | null {
  return from === null || to === null ? null : Math.floor((from + to) / 2);
}

const WIDE = 780;
const INSET = 22;

/** The row of heads at true pitch; the longest run not effective is bracketed. */
function HoleRow(props: { title: string; states: string; condition: Condition }) {
  const { title, states, condition } = props;
  const count = states.length;
  const pitch = Math.min(24, (WIDE - 2 * INSET) / Math.max(1, count - 1));
  const head = Math.max(8, Math.min(20, pitch * 0.92));
  const x = (hole: number) => INSET + (hole - 1) * pitch;
  const { from, to, length } = condition.run;
  return (
    <figure class="hole-row">
      <figcaption>
        <span>
          <b>{title}</b> {stateText(states)}
        </span>
        <b>{runText(condition.run)}</b>
      </figcaption>
      <svg
        role="img"
        aria-label={`${title.toLowerCase()}, ${count} holes: ${stateText(states)}; ${runText(condition.run)}`}
        viewBox={`0 0 ${WIDE} 78`}
      >
        <path class="ln-draw medium" d={`M4 20H${WIDE - 4}M4 48H${WIDE - 4}`} />
        <path class="ln-second thin chain" d={`M4 34H${WIDE - 4}`} />
        {[...states].map((state, at) => (
          <g key={at}>
            {(at === 0 || (at + 1) % 8 === 0) && (
              <text class="px14 mid" x={x(at + 1)} y={13}>
                {at + 1}
              </text>
            )}
            <RivetHead
              state={state as RivetState}
              size={head}
              x={x(at + 1) - head / 2}
              y={34 - head / 2}
            />
            {state !== 'S' && (
              <text class="px14 bold mid" x={x(at + 1)} y={63}>
                {state}
              </text>
            )}
          </g>
        ))}
        {length > 1 && from !== null && to !== null && (
          <path class="ln medium" d={`M${x(from) - head / 2} 67v8H${x(to) + head / 2}v-8`} />
        )}
      </svg>
    </figure>
  );
}

function ConditionLines({ title, condition }: { title: string; condition: Condition }) {
  const { share, worst_six, counts, possible_run } = condition;
  const of = Object.entries(counts).map(([state, count]) => `${state} ${count}`);
  return (
    <section>
      <h3>{title}</h3>
      <FigureLines
        lines={[
          { name: 'shear share left', value: `${share.low} – ${share.high} %` },
          { name: 'not effective', value: String(condition.not_effective) },
          { name: 'worst six in a row', value: `${worst_six.percent} %` },
          { name: 'run if not reached ones fail', value: String(possible_run.length) },
        ]}
      />
      <p class="line-counts">{of.join(' · ')}</p>
    </section>
  );
}

/** What every hole that is not effective takes, what stores must give, and what is held. */
function Decisions({ survey }: { survey: Survey }) {
  const { decisions, demand, held, not_reached, warnings } = survey;
  return (
    <section class="line-decisions">
      <h3>What each hole takes · {decisions.length} not effective</h3>
      <table>
        <tbody>
          {decisions.map((one) => (
            <tr key={one.hole}>
              <th scope="row">{one.hole}</th>
              <td>
                <b>{one.result}</b> {one.diameter}
              </td>
              <td>
                {[one.words, ...one.checks.map(({ words }) => words)].filter(Boolean).join(' · ')}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        {demand.map((one) => `${one.count} of ${one.diameter} × ${one.length}`).join(' · ') ||
          'Nothing to draw from stores.'}
        {held.length > 0 && ` · held: ${held.join(', ')}`}
        {not_reached.length > 0 && ` · not reached: ${not_reached.join(', ')}`}
      </p>
      {warnings.map((words) => (
        <p key={words}>{words}</p>
      ))}
    </section>
  );
}

/** The letter and word of every state on this line. */
function KeyOfHeads({ states }: { states: string }) {
  const used = Object.keys(RIVET_WORDS).filter((state) => states.includes(state));
  return (
    <ul class="head-key" aria-label="Key of rivet heads">
      {used.map((state) => (
        <li key={state}>
          <RivetHead state={state as RivetState} size={24} /> {state}{' '}
          {RIVET_WORDS[state as RivetState]}
        </li>
      ))}
    </ul>
  );
}
