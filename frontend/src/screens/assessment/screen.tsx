import { useMemo } from 'preact/hooks';
import {
  KeyOfMarks,
  ListRow,
  Loading,
  Sheet,
  SheetLink,
  StationList,
  TitleBlock,
} from '../../furniture';
import { ofAirframe, raisedAfter } from '../../services/figures';
import type { ScreenProps, Shop } from '../../services/shop';
import { tabletWords } from '../../services/tablets';
import { fileNumber } from '../defects/address';
import { DeskIndex } from '../frame/index_fields';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { useQuestions } from '../questions/asked';
import { AssessSheet } from './assess_sheet';
import { useTablets } from './devices';
import { FirstPage } from './first_page';
import { type Ordered, orderOfAssessment, type StageDate } from './order';
import { type Progress, useLastVisit, useProgress } from './sitting';
import './screen.css';
import { markOf } from '../frame/record_mark';

/** What waits for the lead, in the order to take it, and what is new since the last visit. */
export default function Assessment(props: ScreenProps) {
  const { shop, params, go } = props;
  const every = useLive(shop, () => shop.book.defects(), []);
  const rows = useMemo(() => every && ofAirframe(every, shop.airframe), [every, shop.airframe]);
  const asked = useQuestions(shop, rows);
  const stages = useStages(shop);
  const last_visit = useLastVisit(shop);
  const { tablets, at_ms } = useTablets(shop);
  const ordered = orderOfAssessment(rows ?? [], stages, shop.today());
  const progress = useProgress(shop, rows && ordered.map((one) => one.row.record));
  const title = useDeskTitle(shop, 'Assessment');
  title.splice(-1, 0, { caption: 'Tablets', value: tabletWords(tablets) });
  const row = rows?.find((one) => fileNumber(one) === params.number);
  const fresh = last_visit === null ? [] : raisedAfter(rows ?? [], last_visit);
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/assessment" go={go} asked={asked?.questions.length} />}
      list_label="To assess"
      list={
        <>
          <OrderHead progress={progress} onFirst={params.number ? () => go('/assessment') : null} />
          <OrderList
            ordered={ordered}
            chosen={row?.record}
            fresh={new Set(fresh.map((one) => one.record))}
            go={go}
          />
        </>
      }
      legend={
        <>
          <KeyOfMarks />
          <SendKey shop={shop} size="small" />
        </>
      }
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {rows === undefined ? (
        <Loading what="The order of assessment" />
      ) : row ? (
        <AssessSheet
          key={row.record}
          {...props}
          row={row}
          ordered={ordered}
          stages={stages.map((one) => one.title)}
          progress={progress}
        />
      ) : (
        <FirstPage
          shop={shop}
          go={go}
          rows={rows}
          tablets={tablets}
          seen={at_ms !== null}
          questions={asked?.questions ?? []}
          last_visit={last_visit}
          progress={progress}
          first={ordered[0]?.row}
        />
      )}
    </Sheet>
  );
}

/** Stages with their dates, the nearest first. */
function useStages(shop: Shop): StageDate[] {
  const stages = useLive(shop, () => shop.book.records('stage'), []) ?? [];
  return stages
    .map(({ title, date }) => ({ title: String(title ?? ''), date: String(date ?? '') }))
    .sort((a, b) => a.date.localeCompare(b.date) || a.title.localeCompare(b.title));
}

function OrderHead({ progress, onFirst }: { progress: Progress; onFirst: (() => void) | null }) {
  const { done, all } = progress;
  return (
    <header class="order-head">
      <div>
        <h2>{all === 0 ? 'Nothing to assess' : `${done} of ${all} decided`}</h2>
        <p>worst first, then the nearest stage, then the longest raised</p>
      </div>
      {onFirst && (
        <SheetLink class="order-first" href="/assessment" onOpen={onFirst}>
          First page
        </SheetLink>
      )}
    </header>
  );
}

function OrderList(props: {
  ordered: Ordered[];
  chosen: string | undefined;
  fresh: Set<string>;
  go: ScreenProps['go'];
}) {
  return (
    <StationList label="Order of assessment">
      {props.ordered.map(({ row: one, reason }) => (
        <ListRow
          key={one.record}
          number={one.number ?? ''}
          mark={markOf(one)}
          right={one.kind_words ?? ''}
          below={reason}
          chosen={one.record === props.chosen}
          changed={props.fresh.has(one.record)}
          href={`/assessment/${fileNumber(one)}`}
          onOpen={() => props.go(`/assessment/${fileNumber(one)}`)}
        />
      ))}
    </StationList>
  );
}
