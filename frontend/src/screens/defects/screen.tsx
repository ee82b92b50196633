import { useEffect, useState } from 'preact/hooks';
import {
  Empty,
  type GradeFigure,
  Key,
  KeyOfMarks,
  ListRow,
  Loading,
  type MarkState,
  Sheet,
  StationList,
  TitleBlock,
} from '../../furniture';
import { listAddress, listNamed, type Opened } from '../../services/figures';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { found, noseToTail } from './order';
import { RecordSheet } from './record_sheet';
import './screen.css';

/** Defect book: the list nose to tail on the left, one record on its sheet. */
export default function Defects(props: ScreenProps) {
  const { shop, params, go } = props;
  const rows = useLive(shop, () => shop.book.defects(), []);
  const unsent = useLive(shop, () => shop.book.unsent(), []) ?? new Set<string>();
  const [words, setWords] = useState('');
  const title = useDeskTitle(shop, 'Defect book');
  // A list that a figure opened: its records alone, till it is left.
  const opened = params.list ? listNamed(rows ?? [], shop.today(), params.list) : null;
  const asked = among(rows ?? [], opened);
  const shown = opened && !words.trim() ? asked : found(asked, words);
  const listed = noseToTail(shown, shop.definition);
  const address = (one: DefectRow) =>
    opened ? listAddress(opened.name, fileNumber(one)) : `/defects/${fileNumber(one)}`;
  const chosen = params.number;
  const row = rows?.find((one) => fileNumber(one) === chosen);
  const first = listed[0]?.row;
  useEffect(() => {
    if (!chosen && first && globalThis.innerWidth >= 900) go(address(first), 'replace');
  }, [chosen, first?.record]);
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/defects" go={go} />}
      list_label="Defects"
      list={
        <>
          <Find
            words={words}
            onWords={setWords}
            shown={listed.length}
            all={rows?.length ?? 0}
            whole={opened !== null && !words.trim()}
          />
          {opened && <OpenedList opened={opened} shown={listed.length} go={go} />}
          <StationList label="Records, nose to tail">
            {listed.map(({ row: one, member }) => (
              <OneRow
                key={one.record}
                row={one}
                member={member}
                chosen={fileNumber(one) === chosen}
                stored={unsent.has(one.record) ? '1 copy, this tablet' : undefined}
                href={address(one)}
                onOpen={() => go(address(one))}
              />
            ))}
          </StationList>
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
        <Loading what="The defect book" />
      ) : row ? (
        <RecordSheet key={row.record} {...props} row={row} />
      ) : (
        <Empty
          looked_at
          title={chosen ? `No record ${chosen} in this book` : 'No record yet'}
          cells={`${rows.length} records in all`}
        >
          <p>
            {rows.length === 0
              ? 'Records come from the tablets: capture one at the airframe, or wait for a tablet to come in.'
              : 'Choose a record from the list.'}
          </p>
        </Empty>
      )}
    </Sheet>
  );
}

function among(rows: DefectRow[], opened: Opened | null): DefectRow[] {
  if (!opened) return rows;
  const records = new Set(opened.records);
  return rows.filter((row) => records.has(row.record));
}

/** What list a figure opened, and the way back to all records. */
function OpenedList(props: { opened: Opened; shown: number; go: ScreenProps['go'] }) {
  const { opened, shown } = props;
  const all = opened.records.length;
  return (
    <div class="opened-list" role="status">
      <p>
        <b>{opened.title}</b>
        <br />
        {shown === all ? `${all}` : `${shown} of ${all}`} {all === 1 ? 'record' : 'records'}
      </p>
      <Key label="All records" size="small" letters={18} onPress={() => props.go('/defects')} />
    </div>
  );
}

/** "A0017": the number as it stands in addresses. */
export function fileNumber(row: DefectRow): string {
  return (row.number ?? row.record).replace('/', '');
}

function Find(props: {
  words: string;
  onWords: (words: string) => void;
  shown: number;
  all: number;
  /** Nothing is left out, as in a list that a figure opened. */
  whole: boolean;
}) {
  return (
    <search class="find">
      <label>
        <span class="cap">Find: number, place, kind, grade, state</span>
        <input
          type="search"
          name="find"
          autocomplete="off"
          value={props.words}
          onInput={(event) => props.onWords(event.currentTarget.value)}
        />
      </label>
      <p aria-live="polite">
        {props.shown} of {props.all} records, nose to tail
        {props.whole ? '' : ' · raised in error left out'}
      </p>
    </search>
  );
}

function OneRow(props: {
  row: DefectRow;
  member: { name: string; station: string } | undefined;
  chosen: boolean;
  stored: string | undefined;
  href: string;
  onOpen: () => void;
}) {
  const { row } = props;
  const hand = row.hand === 'P' ? 'Port' : row.hand === 'S' ? 'Stbd' : 'Centre';
  const strakes = row.place?.strakes?.join('–');
  const offset = Number(row.place?.offset.value ?? 0) === 0 ? '' : ` + ${row.place?.offset.value}`;
  const below = [hand, `${row.member ?? ''}${offset}`, strakes, row.kind_words?.toLowerCase()];
  return (
    <ListRow
      number={row.number ?? ''}
      mark={{
        grade: row.grade as GradeFigure | null,
        at_least: !row.grade_known,
        state: row.state as MarkState,
      }}
      right={`${row.grade_words} · ${row.state}`}
      below={below.filter(Boolean).join(' · ')}
      member={props.member}
      stored={props.stored}
      chosen={props.chosen}
      href={props.href}
      onOpen={props.onOpen}
    />
  );
}
