import { ErrorFrame } from '../../furniture';
import type { DefectRow, ExchangeState, RefusedEntry, Shop } from '../../services/shop';
import { offsetWords } from '../frame/clock_words';

/** More than this and it is worth setting the tablet's clock. */
const CLOCK_MS = 120_000;

interface Props {
  shop: Shop;
  state: ExchangeState;
  rows: readonly DefectRow[];
}

/** What went another way than usual between this tablet and the server, and what to do about it. */
export function Notices(props: Props) {
  return (
    <>
      <PutBack {...props} />
      <Clone {...props} />
      <ClockOff {...props} />
      <Refused {...props} />
    </>
  );
}

/** The server was restored: everything held here is offered again. */
function PutBack({ shop, state }: Props) {
  if (state.offered_ms === null) return null;
  const [day, time] = shop.moment(state.offered_ms);
  return (
    <section class="waiting-notice" role="status">
      <h2>The server was put back from an older copy</h2>
      <p>
        Noticed on {day} at {time}. Everything this tablet holds is offered to it again, what others
        wrote as well; it takes what it lacks. Leave the tablet in reach until nothing waits.
      </p>
    </section>
  );
}

/** Two records bear one number: this tablet and a copy of it both gave it. */
function Clone({ shop, rows }: Props) {
  const letter = shop.device?.letter;
  const shared = rows.filter((row) => row.number_shared && row.number?.startsWith(`${letter}/`));
  const numbers = [...new Set(shared.map(({ number }) => number))];
  if (!letter || numbers.length === 0) return null;
  return (
    <ErrorFrame
      title={`${numbers.join(', ')}: on two records`}
      text={`Another tablet has given numbers as ${letter} too: it was set up from a copy of this one. Both records are kept. Tell the lead, who gives one of each a new number and enrols the tablets anew.`}
    />
  );
}

function ClockOff({ state }: Props) {
  const { clock_off_ms } = state;
  if (clock_off_ms === null || Math.abs(clock_off_ms) < CLOCK_MS) return null;
  return (
    <section class="waiting-notice">
      <h2>This tablet’s clock is {offsetWords(clock_off_ms)}</h2>
      <p>Times are corrected by the server’s. Set the clock when there is time for it.</p>
    </section>
  );
}

/** Entries the server does not take: what each was about, why, and what to do. */
function Refused({ state, rows }: Props) {
  const { refused } = state;
  if (refused.length === 0) return null;
  const named = new Map(rows.map(({ record, number }) => [record, number]));
  return (
    <section class="waiting-notice">
      <h2>Refused by the server</h2>
      <p>
        They stay on this tablet and are not sent again. Enter by hand at the desk what they say,
        and tell the lead.
      </p>
      <ul>
        {refused.map((one) => (
          <li key={one.id}>
            <strong>{aboutWords(one, named.get(one.record) ?? null)}</strong> {one.reason} (
            {one.code})
          </li>
        ))}
      </ul>
    </section>
  );
}

/** "A/0017", of another kind of record "photograph". */
function aboutWords({ kind }: RefusedEntry, number: string | null): string {
  return number ?? (kind.replaceAll('_', ' ') || 'entry');
}
