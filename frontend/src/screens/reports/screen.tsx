import { useState } from 'preact/hooks';
import { Empty, ErrorFrame, Key, KeyRow, SAFETY_FULL, Sheet, TitleBlock } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { useDeskTitle } from '../frame/title';
import { useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import './screen.css';

/** Zone reports and the CSV of the book, made by the server. */
export default function Reports({ shop, go }: ScreenProps) {
  const rows = useLive(shop, () => shop.book.defects(), []) ?? [];
  const [zone, setZone] = useState<string | null>(null);
  const [made, setMade] = useState<string | null>(null);
  const { trouble, busy, run } = useTrouble();
  const title = useDeskTitle(shop, 'Reports');
  const zones = listed(shop.definition?.zones ?? []);
  const held = countsByZone(rows);
  const fetchTo = (path: string, name: string) =>
    run(async () => {
      setMade(null);
      save(await shop.api.document(path), name);
      setMade(name);
    });
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/reports" go={go} />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      <div class="reports">
        <h1>Zone report</h1>
        <p>{SAFETY_FULL}</p>
        {zones.length === 0 ? (
          <Empty
            looked_at
            title="No airframe is here yet"
            cells="The definition comes with the first exchange"
          />
        ) : (
          <fieldset class="zones" aria-label="Zones">
            {zones
              .filter((one) => one.cells !== undefined || held.has(one.zone))
              .map((one) => (
                <Key
                  key={one.zone}
                  label={one.zone}
                  second={`${one.title}, ${held.get(one.zone) ?? 0} ${held.get(one.zone) === 1 ? 'record' : 'records'}`}
                  chosen={one.zone === zone}
                  place="zone-key"
                  onPress={() => setZone(one.zone)}
                />
              ))}
          </fieldset>
        )}
        {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
        <p class="made" role="status">
          {busy
            ? 'The report is being set: it takes some seconds …'
            : made
              ? `${made} is in your downloads.`
              : ''}
        </p>
        <KeyRow apart="desk">
          <Key
            label="MAKE THE REPORT"
            kind="main"
            letters={24}
            second={zone ? `zone ${zone}, PDF` : undefined}
            unavailable={busy ? 'being set …' : zone ? undefined : 'choose a zone'}
            onPress={() => zone && fetchTo(`/api/reports/zone/${zone}.pdf`, `zone-${zone}.pdf`)}
          />
          <Key
            label="ALL RECORDS"
            second="CSV, one row a record"
            unavailable={busy ? 'being set …' : undefined}
            onPress={() => fetchTo('/api/exports/defects.csv', 'defects.csv')}
          />
        </KeyRow>
      </div>
    </Sheet>
  );
}

/** One row a zone: a zone of several structures has a rule for each. */
function listed<Zone extends { zone: string }>(zones: Zone[]): Zone[] {
  return [...new Map(zones.map((one) => [one.zone, one])).values()];
}

function countsByZone(rows: DefectRow[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const row of rows)
    for (const zone of row.zones ?? []) counts.set(zone, (counts.get(zone) ?? 0) + 1);
  return counts;
}

function save(document_: Blob, name: string) {
  const url = URL.createObjectURL(document_);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
