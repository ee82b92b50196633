import type { Figures } from '../../domain/figures';
import { listAddress } from '../../services/figures';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { BarLink, scaleOf } from './bars';

type Go = ScreenProps['go'];

/** Days from raised to cleared as dots on a scale of days, the median as a chain line. */
export function Clearing(props: { found: Figures; go: Go }) {
  const { days_to_clear: cleared } = props.found;
  const median = cleared.median;
  return (
    <section class="clearing">
      <h2 class="bars-caption">Days to clear</h2>
      {median === null ? (
        <p>No figure: nothing was cleared yet.</p>
      ) : (
        <>
          <p>
            Median <b class="clearing-median">{median}</b> days of {cleared.count} cleared.
          </p>
          <DaysDrawn days={cleared.days} median={Number(median)} />
          <p>
            <span class="spoken">Days in order: </span>
            <span class="clearing-days">{cleared.days.join(', ')}</span>
          </p>
          <BarLink href={listAddress('days-to-clear')} count={cleared.count} go={props.go}>
            Open the {cleared.count} records
          </BarLink>
        </>
      )}
    </section>
  );
}

const BASE = 58;

function DaysDrawn({ days, median }: { days: readonly number[]; median: number }) {
  const { end, step } = scaleOf(Math.max(...days, 1));
  const share = (day: number) => `${2 + (96 * day) / end}%`;
  const ticks = Array.from({ length: Math.round(end / step) + 1 }, (_, at) => at * step);
  return (
    <svg class="clearing-drawn" aria-hidden="true">
      <line class="ln medium" x1={share(0)} x2={share(end)} y1={BASE} y2={BASE} />
      {ticks.map((tick) => (
        <g key={tick}>
          <line class="ln thin" x1={share(tick)} x2={share(tick)} y1={BASE} y2={BASE + 7} />
          <text class="px14 mid" x={share(tick)} y={BASE + 22}>
            {tick}
          </text>
        </g>
      ))}
      <line class="ln thin chain" x1={share(median)} x2={share(median)} y1="18" y2={BASE + 7} />
      <text class="px14 mid" x={share(median)} y="13">
        median
      </text>
      {days.map((day, at) => {
        const below = days.slice(0, at).filter((one) => one === day).length;
        return (
          <circle key={at} class="fill-ink" cx={share(day)} cy={BASE - 8 - 14 * below} r="6" />
        );
      })}
    </svg>
  );
}

interface Deferral {
  to_stage?: string;
  to_date?: string;
  look_again_by?: string;
  limit?: string;
}

/** What was put off, the day due first. */
export function Deferrals({ rows, today, go }: { rows: DefectRow[]; today: string; go: Go }) {
  const put_off = rows
    .filter((row) => row.state === 'Deferred')
    .map((row) => ({ row, deferral: (row.deferral ?? {}) as Deferral }))
    .sort((a, b) => dueOf(a.deferral).localeCompare(dueOf(b.deferral)));
  if (put_off.length === 0)
    return (
      <section>
        <h2 class="bars-caption">Deferred</h2>
        <p>Nothing is deferred.</p>
      </section>
    );
  return (
    <table class="bars deferrals">
      <caption>
        <span class="bars-caption">Deferred {put_off.length}</span>
      </caption>
      <thead>
        <tr>
          <th scope="col">number</th>
          <th scope="col">raised</th>
          <th scope="col">to</th>
          <th scope="col">look again by</th>
          <th scope="col">limit</th>
        </tr>
      </thead>
      <tbody>
        {put_off.map(({ row, deferral }) => (
          <tr key={row.record}>
            <th scope="row">
              <BarLink href={`/defects/${(row.number ?? '').replace('/', '')}`} count={1} go={go}>
                <b>{row.number}</b>
              </BarLink>
            </th>
            <td>{row.raised_on}</td>
            <td>{deferral.to_stage ?? deferral.to_date ?? row.stage}</td>
            <td>{dueWords(deferral, today)}</td>
            <td>{deferral.limit ?? 'no limit'}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** What has no day to look again comes last. */
function dueOf(deferral: Deferral): string {
  return deferral.look_again_by ?? '9';
}

function dueWords({ look_again_by }: Deferral, today: string): string {
  if (!look_again_by) return 'no day given';
  return look_again_by < today ? `${look_again_by}, overdue` : look_again_by;
}
