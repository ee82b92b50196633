import { useEffect, useState } from 'preact/hooks';
import {
  Empty,
  type GradeFigure,
  KeyOfMarks,
  ListRow,
  type MarkState,
  SafetyLine,
  Sheet,
  StationList,
  TitleBlock,
} from '../../furniture';
import type { DefectRow, ScreenProps, Shop } from '../../services/shop';
import { RecordSheet } from '../defects/record_sheet';
import { fileNumber } from '../defects/screen';
import { DeskIndex } from '../frame/index_fields';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { counted, orderOfAssessment, type StageDate } from './order';
import './screen.css';

const NAME = 'assessment/last';

/** What waits for the lead, in the order to take it, and what is new since the last visit. */
export default function Assessment(props: ScreenProps) {
  const { shop, params, go } = props;
  const rows = useLive(shop, () => shop.book.defects(), []) ?? [];
  const stages = useLive(shop, () => shop.book.records('stage'), []) ?? [];
  const since = useLastVisit(shop);
  const title = useDeskTitle(shop, 'Assessment');
  const dates: StageDate[] = stages.map((one) => ({
    title: String(one.title ?? '').split(':')[0] ?? '',
    date: String(one.date ?? ''),
  }));
  const ordered = orderOfAssessment(rows, dates, shop.today());
  const row = rows.find((one) => fileNumber(one) === params.number);
  const fresh = rows.filter((one) => since !== null && (one.raised_on ?? '') > since);
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/assessment" go={go} />}
      list_label="To assess"
      list={
        <StationList label="Order of assessment">
          {ordered.map(({ row: one, reason }) => (
            <ListRow
              key={one.record}
              number={one.number ?? ''}
              mark={{
                grade: one.grade as GradeFigure | null,
                at_least: !one.grade_known,
                state: one.state as MarkState,
              }}
              right={one.kind_words ?? ''}
              below={reason}
              chosen={one.record === row?.record}
              changed={fresh.includes(one)}
              href={`/assessment/${fileNumber(one)}`}
              onOpen={() => go(`/assessment/${fileNumber(one)}`)}
            />
          ))}
        </StationList>
      }
      legend={
        <>
          <KeyOfMarks />
          <SendKey shop={shop} size="small" />
        </>
      }
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {row ? (
        <RecordSheet key={row.record} {...props} row={row} />
      ) : (
        <Overview fresh={fresh} since={since} waiting={ordered.length} />
      )}
    </Sheet>
  );
}

/** New since the last visit, by grade, stage and zone. */
function Overview(props: { fresh: DefectRow[]; since: string | null; waiting: number }) {
  const { fresh, since, waiting } = props;
  return (
    <div class="overview">
      <h1>{waiting === 0 ? 'Nothing waits for you' : `${waiting} to assess`}</h1>
      <SafetyLine wording="full" />
      {fresh.length === 0 ? (
        <Empty
          looked_at
          title={since ? `Nothing new since ${since}` : 'Your first visit on this browser'}
          cells="Choose a record from the list: the order says why it stands where it does."
        />
      ) : (
        <>
          <h2>
            New since {since}: {fresh.length}
          </h2>
          <div class="counts">
            <Counts title="by grade" of={counted(fresh, (row) => row.grade_words)} />
            <Counts title="by stage" of={counted(fresh, (row) => row.stage)} />
            <Counts title="by zone" of={counted(fresh, (row) => row.zone)} />
          </div>
        </>
      )}
    </div>
  );
}

function Counts({ title, of }: { title: string; of: [string, number][] }) {
  return (
    <table>
      <caption>{title}</caption>
      <tbody>
        {of.map(([name, count]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{count}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Day of the visit before this one on this browser; today is kept for the next. */
function useLastVisit(shop: Shop): string | null {
  const [since, setSince] = useState<string | null>(null);
  const { session } = shop;
  useEffect(() => {
    if (!session) return;
    const today = shop.today();
    const read = async () => {
      const kept = await shop.drafts.read<{ last: string; before: string | null }>(session, NAME);
      const before = kept && kept.last < today ? kept.last : (kept?.before ?? null);
      setSince(before);
      await shop.drafts.write(session, NAME, { last: today, before });
    };
    read().catch(() => undefined);
  }, [shop, session?.person]);
  return since;
}
