import { type Figures as Found, figures } from '../../domain/figures';
import {
  Empty,
  type GradeFigure,
  GradeMark,
  Loading,
  SafetyLine,
  Sheet,
  stateWords,
  TitleBlock,
} from '../../furniture';
import { listAddress, ofAirframe, openOfKind } from '../../services/figures';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { contactWords, useExchange } from '../frame/contact';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { CountedIndex } from '../questions/counted_index';
import { BarLink, BarTable, type DrawnBar } from './bars';
import { Clearing, Deferrals } from './clearing';
import './screen.css';

/** Check figures of the book on this browser; every bar and count opens the list that makes it. */
export default function Figures({ shop, go }: ScreenProps) {
  const every = useLive(shop, () => shop.book.defects(), []);
  const rows = every && ofAirframe(every, shop.airframe);
  const title = useDeskTitle(shop, 'Figures');
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/figures" {...{ shop, go }} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {rows === undefined ? (
        <Loading what="The defect book" />
      ) : rows.length === 0 ? (
        <div class="figures-none">
          <Empty looked_at title="No record yet" cells="0 records in this book">
            <p>
              Records come from the tablets: enrol one on the sheet <a href="/people">People</a>.
              Figures are worked out as soon as the first record is here.
            </p>
          </Empty>
        </div>
      ) : (
        <Sheets shop={shop} rows={rows} go={go} />
      )}
    </Sheet>
  );
}

type Go = ScreenProps['go'];

function Sheets({ shop, rows, go }: { shop: ScreenProps['shop']; rows: DefectRow[]; go: Go }) {
  const exchange = useExchange(shop);
  const found = figures(rows, shop.today());
  return (
    <div class="figures">
      <header class="figures-head">
        <h1>Figures as at {found.as_at}</h1>
        <p>
          Worked out here, from the book on this browser. {contactWords(exchange, shop.now())} Each
          row opens the records that it counts.
        </p>
        <SafetyLine wording="short" />
      </header>
      <div class="figures-first">
        <States found={found} go={go} />
        <Grades found={found} go={go} />
        <Ages found={found} go={go} />
        <Deferrals rows={rows} today={found.as_at} go={go} />
        <Clearing found={found} go={go} />
      </div>
      <Kinds found={found} go={go} />
    </div>
  );
}

/** Records = open + cleared + same as + raised in error (+ drafts). */
function States({ found, go }: { found: Found; go: Go }) {
  const isOpen = new Set(['Raised', 'Assessed', 'In work', 'Offered', 'Deferred']);
  const open = found.states.filter(({ state }) => isOpen.has(state));
  const rest = found.states.filter(({ state, count }) => !isOpen.has(state) && count > 0);
  const line = (name: string, words: string, count: number, inset = false) => (
    <tr key={name} class={inset ? 'inset' : 'sum'}>
      <th scope="row">
        <BarLink href={listAddress(name)} count={count} go={go}>
          {words}
        </BarLink>
      </th>
      <td class="bars-figure">
        <b>{count}</b>
      </td>
    </tr>
  );
  return (
    <table class="bars states">
      <caption>
        <span class="bars-caption">Records</span>
      </caption>
      <tbody>
        {line('records', 'Records', found.records.count)}
        {line('open', 'Open', found.open.count)}
        {open.map(({ state, count }) => line(`state.${state}`, worded(state), count, true))}
        {rest.map(({ state, count }) => line(`state.${state}`, worded(state), count))}
      </tbody>
    </table>
  );
}

function worded(state: string): string {
  return state === 'Offered' ? stateWords('Offered') : state;
}

function Grades({ found, go }: { found: Found; go: Go }) {
  const { left_out } = found;
  const live = [...found.live_by_grade].reverse();
  const open = new Map(found.open_by_grade.map((bar) => [bar.grade, bar.count]));
  const shown = live.filter(({ grade, count }) => grade !== null || count > 0);
  const bars = shown.map(({ grade, count }): DrawnBar => {
    const name = `live-grade.${grade ?? 'none'}`;
    return {
      key: name,
      label: (
        <>
          <GradeMark grade={grade as GradeFigure | null} size={34} />
          {grade === null ? 'Not graded' : `Grade ${grade}`}
        </>
      ),
      count,
      inked: open.get(grade) ?? 0,
      href: listAddress(name),
      part: {
        count: open.get(grade) ?? 0,
        href: listAddress(`open-grade.${grade ?? 'none'}`),
      },
    };
  });
  return (
    <section>
      <BarTable
        caption="By grade"
        note="ink: open · outline: cleared"
        heads={['grade', `live ${found.live.count}`, `open ${found.open.count}`]}
        bars={bars}
        go={go}
      />
      <p class="bars-aside">
        Live leaves out {left_out.same_as} same as, {left_out.raised_in_error} raised in error,{' '}
        {left_out.nil} looked at – nothing found
        {left_out.draft > 0 && `, ${left_out.draft} drafts`}.
      </p>
    </section>
  );
}

function Ages({ found, go }: { found: Found; go: Go }) {
  const dated = found.open_by_age.filter(({ band, count }) => band !== 'date not known' || count);
  const bars = dated.map(({ band, count }): DrawnBar => {
    const name = `age.${band}`;
    return { key: name, label: band, count, href: listAddress(name) };
  });
  return (
    <section>
      <BarTable caption="Open by age" heads={['since raised', 'open']} bars={bars} go={go} />
      <p class="bars-aside">
        Ages run from the day a defect was first raised. Bands sum to {found.open.count} open.
      </p>
    </section>
  );
}

/** Kinds in falling order, in two tables with one scale. */
function Kinds({ found, go }: { found: Found; go: Go }) {
  const bars = found.kinds.map((bar): DrawnBar => {
    const name = `kind.${bar.kind ?? 'none'}`;
    const open = openOfKind(found, bar.kind ?? 'none')?.records.length ?? 0;
    const percents = bar.percent === null ? [] : [`${bar.percent} %`, `${bar.running_percent} %`];
    return {
      key: name,
      label: bar.kind_words,
      count: bar.count,
      inked: open,
      href: listAddress(name),
      part: { count: open, href: listAddress(`open-kind.${bar.kind ?? 'none'}`) },
      more: percents,
    };
  });
  const half = bars.length > 6 ? Math.ceil(bars.length / 2) : bars.length;
  const isPercent = found.kinds.some(({ percent }) => percent !== null);
  const heads = ['kind', 'live', 'open', ...(isPercent ? ['share', 'running'] : [])];
  const most = Math.max(...bars.map((bar) => bar.count), 1);
  const parts = [bars.slice(0, half), bars.slice(half)].filter((part) => part.length > 0);
  return (
    <section class="figures-kinds">
      {parts.map((part, at) => (
        <BarTable
          key={at}
          caption={at === 0 ? 'By kind' : 'By kind, continued'}
          note={at === 0 ? 'ink: open · outline: cleared' : undefined}
          heads={heads}
          bars={part}
          most={most}
          go={go}
        />
      ))}
      {!isPercent && <p class="bars-aside">Too few records for percentages: counts only.</p>}
    </section>
  );
}
