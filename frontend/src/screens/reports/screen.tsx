import { useMemo, useState } from 'preact/hooks';
import {
  announce,
  Empty,
  ErrorFrame,
  Key,
  Loading,
  SAFETY_FULL,
  Sheet,
  TitleBlock,
} from '../../furniture';
import { ofAirframe } from '../../services/figures';
import { looksHere } from '../../services/of_airframe';
import type { Definition, ScreenProps, Shop } from '../../services/shop';
import { DayField } from '../frame/day_field';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useTrouble } from '../frame/trouble';
import { dayWords } from '../frame/words';
import { useLive } from '../live';
import { CountedIndex } from '../questions/counted_index';
import { type Job, useReports } from './jobs';
import { MadeList } from './made_list';
import { zoneViews } from './patches';
import { asked, suffix, TakeAway } from './take_away';
import { ZoneDrawing } from './zone_drawing';
import { ZoneList } from './zone_list';
import { holdWords, type ZoneRow, zoneRows } from './zones';
import './screen.css';

/** Zone reports made by the server, and the defect book to take away. */
export default function Reports({ shop, go }: ScreenProps) {
  const title = useDeskTitle(shop, 'Reports');
  const { definition } = shop;
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/reports" {...{ shop, go }} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {definition ? (
        <Zones shop={shop} definition={definition} go={go} />
      ) : (
        <Empty
          looked_at
          title="No airframe is here yet"
          cells="The definition comes with the first exchange"
        />
      )}
    </Sheet>
  );
}

type Go = ScreenProps['go'];

function Zones({ shop, definition, go }: { shop: Shop; definition: Definition; go: Go }) {
  const every = useLive(shop, () => shop.book.defects(), []);
  const coverage = useLive(shop, () => looksHere(shop), [shop.airframe?.record]);
  const rows = every && ofAirframe(every, shop.airframe);
  const zones = useMemo(
    () => rows && coverage && zoneRows(definition, rows, coverage),
    [every, coverage, definition],
  );
  const [chosen, choose] = useChosen();
  if (!zones || !rows) return <Loading what="The zones" />;
  return (
    <div class="reports">
      <section class="reports-choose">
        <h1>Zone report</h1>
        <div class="zone-drawings">
          {zoneViews(definition).map((view) => (
            <ZoneDrawing
              key={view.name}
              {...{ view, definition, zones, chosen }}
              onChoose={choose}
            />
          ))}
        </div>
        <ZoneList {...{ zones, chosen }} onChoose={choose} />
      </section>
      <Making
        shop={shop}
        go={go}
        all={rows.length}
        chosen={zones.filter((one) => chosen.includes(one.zone))}
      />
    </div>
  );
}

function Making(props: { shop: Shop; chosen: ZoneRow[]; all: number; go: Go }) {
  const { shop, chosen, all, go } = props;
  const { jobs, away, look } = useReports(shop);
  const { trouble, busy, run } = useTrouble();
  const [day, setDay] = useState('');
  const airframe = shop.airframe?.constructor_number || null;
  const past = day !== '' && day < shop.today() ? day : null;
  const fetchTo = (path: string, name: string) =>
    run(async () => {
      save(await shop.api.document(path), name);
      announce(`${name} is in your downloads.`);
    });
  const [one] = chosen;
  const take = () =>
    fetchTo(
      `/api/reports/zone/${encodeURIComponent(one?.zone ?? '')}.pdf${asked({ airframe, as_at: past })}`,
      `zone-${one?.zone}${suffix(past)}.pdf`,
    );
  const make = () =>
    run(async () => {
      const zones = chosen.map((one) => one.zone);
      await shop.api.post('/api/reports', { zones, ...(airframe ? { airframe } : {}) });
      await look();
    });
  const cancel = (job: Job) =>
    run(async () => {
      await shop.api.post(`/api/reports/${job.id}/cancel`);
      await look();
    });
  return (
    <section class="reports-make">
      <AsAtDay {...{ day, past, go }} today={shop.today()} onDay={setDay} />
      <WillHold chosen={chosen} past={past} />
      <Key
        label={chosen.length > 1 ? `MAKE ${chosen.length} REPORTS` : 'MAKE REPORT'}
        kind="main"
        letters={24}
        second={chosen.length > 0 ? madeWords(chosen, past) : undefined}
        unavailable={whyNot(chosen, past, busy, away)}
        onPress={past ? take : make}
      />
      {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      {away && (
        <ErrorFrame
          title="The server is not reached."
          text="Reports and files are made by the server; come back when it answers."
        />
      )}
      <h2>Reports made</h2>
      {jobs ? (
        <MadeList
          jobs={jobs}
          onFetch={(job) => fetchTo(`/api/reports/${job.id}.pdf`, `zone-${job.zone}.pdf`)}
          onCancel={cancel}
        />
      ) : (
        !away && <Loading what="The reports made" />
      )}
      <TakeAway
        zone={chosen.length === 1 && one ? one.zone : null}
        records={chosen.length === 1 && one ? one.records : all}
        busy={busy}
        past={past}
        airframe={airframe}
        go={go}
        onTake={fetchTo}
      />
      <p class="reports-safety">{SAFETY_FULL}</p>
    </section>
  );
}

/** One day governs every key of this side: reports, files and the book to look at. */
function AsAtDay(props: {
  day: string;
  past: string | null;
  today: string;
  go: Go;
  onDay: (day: string) => void;
}) {
  const { day, past } = props;
  return (
    <div class="reports-day">
      <DayField
        label={past ? `As at ${dayWords(past)}` : 'As at today'}
        max={props.today}
        value={day}
        onText={props.onDay}
      />
      {past && <Key label="SEE THE BOOK" onPress={() => props.go(`/defects?as_at=${past}`)} />}
    </div>
  );
}

/** "zone 111, 112", "zone 111 as at 30 June 2025, to your downloads". */
function madeWords(chosen: ZoneRow[], past: string | null): string {
  const zones = `zone ${chosen.map((each) => each.zone).join(', ')}`;
  return past ? `${zones} as at ${dayWords(past)}, to your downloads` : zones;
}

function WillHold({ chosen, past }: { chosen: ZoneRow[]; past: string | null }) {
  if (chosen.length === 0)
    return <p class="will-hold">Choose a zone on the drawing or in the list, or several.</p>;
  return (
    <p class="will-hold" role="status">
      <b>{chosen.length === 1 ? 'The report will hold' : `${chosen.length} reports will hold`}</b>{' '}
      {past ? `what stood at the end of ${dayWords(past)}` : holdWords(chosen)}; what was looked at
      and what not, the drawing with its marks, a sheet for each defect, what is deferred,
      instruments, words and record hash.
    </p>
  );
}

function whyNot(chosen: ZoneRow[], past: string | null, busy: boolean, away: boolean) {
  if (chosen.length === 0) return 'choose a zone';
  if (past && chosen.length > 1) return 'one zone at a time as at an earlier day';
  if (away) return 'the server is not reached';
  return busy ? 'a moment …' : undefined;
}

const KEPT = 'skinpin.reports.zones';

/** The zones chosen; they are still chosen after a reload of the sheet. */
function useChosen(): [string[], (zone: string) => void] {
  const [chosen, setChosen] = useState<string[]>(kept);
  const choose = (zone: string) => {
    const now = chosen.includes(zone) ? chosen.filter((one) => one !== zone) : [...chosen, zone];
    try {
      sessionStorage.setItem(KEPT, now.join(' '));
    } catch {
      // A browser that keeps nothing still chooses.
    }
    setChosen(now);
  };
  return [chosen, choose];
}

function kept(): string[] {
  try {
    return sessionStorage.getItem(KEPT)?.split(' ').filter(Boolean) ?? [];
  } catch {
    return [];
  }
}

function save(document_: Blob, name: string) {
  const url = URL.createObjectURL(document_);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
