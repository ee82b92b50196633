import type { DefectRow, HistoryLine, Shop } from '../../services/shop';
import { useLive } from '../live';

/** Everything that happened to a record, as sentences; what does not count is shown and says so. */
export function History({ shop, row }: { shop: Shop; row: DefectRow }) {
  const lines = useLive(shop, () => shop.book.history(row.record), [row.record]) ?? [];
  return (
    <section class="history">
      <h2>History · {lines.length} entries, oldest first</h2>
      <ol>
        {lines.map((line) => (
          <li
            key={`${line.entry} ${line.sentence}`}
            class={line.counts ? undefined : 'not-counting'}
          >
            <time dateTime={`${line.date}T${line.time}`}>
              {line.date} <span class="time-of-day">{line.time}</span>
            </time>
            <span>{line.parts ? <Struck parts={line.parts} /> : line.sentence}</span>
          </li>
        ))}
      </ol>
    </section>
  );
}

/** A sentence with the old value struck through by one line. */
function Struck({ parts }: { parts: NonNullable<HistoryLine['parts']> }) {
  return (
    <>{parts.map(([words, is_struck]) => (is_struck ? <s class="struck">{words}</s> : words))}</>
  );
}
