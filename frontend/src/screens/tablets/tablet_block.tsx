import { offsetWords } from '../frame/clock_words';
import { NumberLine } from './number_line';
import {
  minuteOf,
  type NumbersWord,
  noticesOf,
  numbersWords,
  rangeWords,
  type TabletRow,
  waitsWords,
} from './register';

/** One tablet of the register: what it told, its numbers on a rule, and what wants doing. */
export function TabletBlock({ row, mine }: { row: TabletRow; mine: boolean }) {
  const { letter, told, numbers } = row;
  return (
    <section
      class={`tablet${row.shut ? ' shut' : ''}${letter ? '' : ' desk'}`}
      aria-label={letter ? `Tablet ${letter}` : 'Desk'}
    >
      <h2>
        {letter ?? 'Desk'}
        {mine && <small>this one</small>}
      </h2>
      <dl class="tablet-told">
        <Cell name="Last here" says={minuteOf(row.last_seen)} />
        <Cell
          name="Waiting on it"
          says={waitsWords(told)}
          bold={(told?.entries ?? 0) + (told?.files ?? 0) > 0}
        />
        <Cell name="Clock" says={told ? offsetWords(told.offset_ms) : 'not told'} />
        <Cell
          name="App"
          says={told ? (row.old_app ? 'older' : 'as the server’s') : 'not told'}
          bold={row.old_app}
        />
        <Cell name="Room for photographs" says={told?.room_photographs?.toString() ?? 'not told'} />
        <Cell
          name="Battery"
          says={told?.battery_percent == null ? 'not told' : `${told.battery_percent} %`}
        />
      </dl>
      {numbers && (
        <div class="tablet-numbers">
          <p>
            <b>{numbersWords(numbers)}</b>
            {numbers.words.length === 0 && numbers.first && ' · every number is here'}
          </p>
          <NumberLine numbers={numbers} />
          <Words words={numbers.words} />
        </div>
      )}
      {noticesOf(row).map(({ what, todo, weight }) => (
        <p key={what} class={`tablet-notice ${weight}`}>
          {weight === 'error' && <span class="error-sign">!</span>}
          <span>
            <b>{what}</b> {todo}
          </span>
        </p>
      ))}
    </section>
  );
}

function Cell({ name, says, bold }: { name: string; says: string; bold?: boolean }) {
  return (
    <div>
      <dt class="cap">{name}</dt>
      <dd class={bold ? 'bold' : ''}>{says}</dd>
    </div>
  );
}

/** Why each number that is no ordinary record is missing or set apart, by reason. */
function Words({ words }: { words: readonly NumbersWord[] }) {
  const reasons = [...new Set(words.map(({ why }) => why))];
  if (reasons.length === 0) return null;
  return (
    <ul class="tablet-words">
      {reasons.map((why) => (
        <li key={why}>
          <b>{why}</b>{' '}
          {words
            .filter((one) => one.why === why)
            .map(rangeWords)
            .join(', ')}
        </li>
      ))}
    </ul>
  );
}
