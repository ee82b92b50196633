import { figureText, isQuantity, type Unit } from '../../domain/quantities';
import { DeskKey, FigureLines, SafetyLine } from '../../furniture';
import type { DefectRow, Definition, Json, Shop } from '../../services/shop';
import { besideWords, useBeside } from '../frame/photo_figures';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { CrackReach } from './crack_reach';
import { observationsOf, type Plot, plotOf, readCrack } from './crack_values';

const BOX = { left: 100, right: 710, top: 34, foot: 210 };
const WIDE = 780;
const HIGH = 250;
const WORDS_PX = 116;

/** A crack from observation to observation: points with their ±, limit, growth in words. */
export function CrackRecord(props: { shop: Shop; row: DefectRow; values: Record<string, Json> }) {
  const { shop, row, values } = props;
  const written = useLive(shop, () => shop.book.written(row.record, 'length'), [row.record]);
  const beside = useBeside(
    shop,
    (written ?? []).map(({ value }) => value),
  );
  if (!written || !beside) return null;
  const fell = [...beside].filter(([, one]) => one.fell).map(([measurement]) => measurement);
  const observations = observationsOf(written, new Set(fell));
  const lengths = observations.map(({ date, length }) => ({
    name: `${date}: length`,
    value: length as unknown as Json,
  }));
  const limit = values.next_hole;
  const unit = unitOf(row, shop.definition);
  const { read, problem } = readCrack(observations, limit);
  if (!read || observations.length === 0)
    return <p class="no-view">{problem ?? 'No length was measured yet.'}</p>;
  const growth = read.points.map((point) => point.since_first?.words ?? null);
  return (
    <section class="crack-record">
      <h2>
        Crack record · {observations.length}{' '}
        {observations.length === 1 ? 'observation' : 'observations'} ·{' '}
        {read.growth_shown ? 'growth is shown (CK3)' : 'no growth is shown'}
      </h2>
      <GrowthPlot
        plot={plotOf(observations, limit, BOX, unit)}
        unit={unit}
        limit={isQuantity(limit) ? `${limit.value} ${limit.unit}` : ''}
        spoken={spokenOf(read.growth_shown, unit)}
      />
      <CrackReach
        observations={observations}
        limit={limit}
        left={read.left?.words.replace(/^.*?: /, '') ?? null}
      />
      <div class="crack-words">
        <table class="crack-table">
          <thead>
            <tr>
              <th scope="col">day</th>
              <th scope="col">length</th>
              <th scope="col">method</th>
              <th scope="col">since the one before</th>
              <th scope="col">since the first</th>
            </tr>
          </thead>
          <tbody>
            {observations.map(({ date, length, method }, at) => (
              <tr key={date}>
                <th scope="row">{date}</th>
                <td>{figureText(length)}</td>
                <td>{method ?? 'not said'}</td>
                <td>{read.points[at]?.since_previous?.words ?? '–'}</td>
                <td>{growth[at] ?? '–'}</td>
              </tr>
            ))}
          </tbody>
        </table>
        {besideWords(lengths, beside).map((words) => (
          <p key={words}>{words}</p>
        ))}
        <FigureLines
          lines={[
            ...(read.left ? [{ name: 'left', value: read.left.words }] : []),
            { name: 'rate', value: read.rate?.words ?? 'none under three points of one method' },
          ]}
        />
        {read.breaks.map((words) => (
          <p key={words}>{words}</p>
        ))}
        <p>{read.life}</p>
        <GrowthKey shop={shop} row={row} values={values} shown={read.growth_shown} />
        <SafetyLine wording="short" />
      </div>
    </section>
  );
}

/** The unit of the structure that the crack is in. */
function unitOf(row: DefectRow, definition: Definition | null): Unit {
  const structure = definition?.structures.find(({ name }) => name === row.structure);
  return (structure?.unit ?? definition?.unit) === 'mm' ? 'mm' : 'in';
}

const spokenOf = (shown: boolean, unit: Unit) =>
  `Length of the crack over time in ${unit}, with its uncertainty; ${shown ? 'growth is shown' : 'no growth is shown'}`;

function GrowthPlot(props: { plot: Plot; unit: Unit; limit: string; spoken: string }) {
  const { plot, unit, limit, spoken } = props;
  const line = plot.points.map(({ x, y }) => `${x} ${y}`).join('L');
  return (
    <svg class="growth-plot" role="img" aria-label={spoken} viewBox={`0 0 ${WIDE} ${HIGH}`}>
      <path class="ln thin" d={`M${BOX.left - 54} ${BOX.top}V${BOX.foot}H${BOX.right + 54}`} />
      <text class="px14 bold" x="4" y="14">
        LENGTH, {unit}
      </text>
      {plot.marks.map(({ y, text }) => (
        <g key={text}>
          <path class="ln thin" d={`M${BOX.left - 60} ${y}h6`} />
          <text class="px14 end" x={BOX.left - 64} y={y + 5}>
            {text}
          </text>
        </g>
      ))}
      {plot.limit !== null && (
        <g>
          <path class="ln medium chain" d={`M${BOX.left - 54} ${plot.limit}H${BOX.right + 54}`} />
          <text class="px16 bold" x={BOX.left} y={plot.limit - 6}>
            limit: next hole or edge, {limit}
          </text>
        </g>
      )}
      <path class="ln-draw medium" d={`M${line}`} />
      {plot.points.map(({ date, words, x, y, low, high }, at) => (
        <g key={date}>
          {low !== null && high !== null && (
            <path
              class="ln medium"
              d={`M${x} ${low}V${high}M${x - 7} ${low}h14M${x - 7} ${high}h14`}
            />
          )}
          <circle class="fill-ink" cx={x} cy={y} r="5" />
          <text
            class="px14 bold mid"
            x={x}
            y={isNear(plot, at) ? (low ?? y) + 20 : (high ?? y) - 10}
          >
            {words}
          </text>
          <path class="ln thin" d={`M${x} ${BOX.foot}v6`} />
          <text class="px14 mid" x={x} y={BOX.foot + (isNear(plot, at) ? 36 : 20)}>
            {date}
          </text>
        </g>
      ))}
    </svg>
  );
}

/** Whether a point's words would run into those of the one before, which stand above it. */
function isNear({ points }: Pick<Plot, 'points'>, at: number): boolean {
  const [one, before] = [points[at], points[at - 1]];
  if (!one || !before || one.x - before.x > WORDS_PX) return false;
  return !isNear({ points }, at - 1);
}

/** Says where the record and its figures differ: what the grade goes by is the record's own word. */
function GrowthKey(props: {
  shop: Shop;
  row: DefectRow;
  values: Record<string, Json>;
  shown: boolean;
}) {
  const { shop, row, values, shown } = props;
  const { trouble, busy, run } = useTrouble();
  const said = values.growth_shown === true;
  if (said === shown) return null;
  const set = () =>
    run(async () => {
      if (!shop.session) return;
      const why = 'as the observations show';
      await shop.capture.setField(shop.session, row.record, 'growth_shown', shown, why);
    });
  return (
    <div class="growth-differs">
      <p>
        {shown
          ? 'The figures show growth; the record does not say so yet, and is graded without it.'
          : 'The record says that growth is shown; the figures of this series do not show it.'}
      </p>
      <TroubleNote trouble={trouble} />
      {shown && (
        <DeskKey
          label="Set growth shown"
          kind="main"
          unavailable={busy ? 'a moment …' : undefined}
          onPress={set}
        />
      )}
    </div>
  );
}
