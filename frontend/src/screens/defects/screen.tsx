import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { search } from '../../domain/search';
import { Empty, Key, KeyOfMarks, Loading, Sheet, TitleBlock } from '../../furniture';
import { listNamed, type Opened } from '../../services/figures';
import { isHere } from '../../services/of_airframe';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { useSettled } from '../frame/after_paint';
import { DeskIndex } from '../frame/index_fields';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { useQuestions } from '../questions/asked';
import { bookAddress, fileNumber } from './address';
import { AsAt } from './as_at';
import { FindLine, FindSheet } from './find';
import { filterGroups } from './find_words';
import { DefectList } from './list';
import { NoRecord } from './no_record';
import { type ListedRow, noseToTail } from './order';
import { RecordSheet } from './record_sheet';
import { useShortcuts } from './shortcuts';
import './screen.css';
import './record.css';

export { fileNumber } from './address';

const NOBODY: Readonly<Record<string, string>> = {};
const NOTHING: ReadonlySet<string> = new Set();
const NO_ROWS: DefectRow[] = [];
/** Enter opens the first of what the last letters find, not of what was drawn before them. */
const ENTER_WAITS_MS = 30;

/** Defect book: the list nose to tail on the left, one record on its sheet. */
export default function Defects(props: ScreenProps) {
  return props.params.as_at ? <AsAt {...props} /> : <BookNow {...props} />;
}

function BookNow(props: ScreenProps) {
  const { shop, params, go } = props;
  const every = useLive(shop, () => shop.book.defects(), []);
  const rows = useMemo(() => every?.filter((row) => isHere(shop, row)), [every, shop.airframe]);
  const unsent = useLive(shop, () => shop.book.unsent(), []) ?? NOTHING;
  const asked = useQuestions(shop, rows);
  const [show_filters, setFilters] = useState(false);
  const title = useDeskTitle(shop, 'Defect book');
  const { words, setWords, leave } = useWords(props);
  const { listed, opened } = useListed(props, rows ?? NO_ROWS, words);
  const input = useRef<HTMLInputElement>(null);
  const chosen = params.number;
  const looked = { find: words, list: params.list };
  const open = (row: DefectRow, how?: 'replace') => {
    setFilters(false);
    go(bookAddress(fileNumber(row), looked), how);
  };
  // A step is answered by the list; the sheet is drawn anew when that is painted.
  const shown = useSettled(chosen, [rows, show_filters]);
  const row = useMemo(() => rows?.find((one) => fileNumber(one) === shown), [rows, shown]);
  const first = listed[0]?.row;
  const openFirst = useRef(() => {});
  openFirst.current = () => first && open(first);
  useEffect(() => {
    if (!chosen && first && globalThis.innerWidth >= 900) open(first, 'replace');
  }, [chosen, first?.record]);
  const at = useLatest(chosen);
  useShortcuts({
    find: () => {
      input.current?.focus();
      input.current?.select();
    },
    step: (by) => {
      const here = listed.findIndex((one) => fileNumber(one.row) === at.current);
      const next = listed[here + by]?.row;
      if (!next) return;
      at.current = fileNumber(next);
      open(next, 'replace');
    },
  });
  const groups = useMemo(
    () => filterGroups(rows ?? NO_ROWS, shop.session?.name ?? null),
    [rows, shop.session?.name],
  );
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/defects" go={go} asked={asked?.questions.length} />}
      list_label="Defects"
      list={
        <>
          <FindLine
            words={words}
            onWords={(typed) => setWords(typed, 'typed')}
            onFirst={() => setTimeout(() => openFirst.current(), ENTER_WAITS_MS)}
            onLeave={leave}
            counted={countedWords(listed.length, rows?.length ?? 0, words, opened)}
            show_filters={show_filters}
            onFilters={() => setFilters(!show_filters)}
            input={input}
          />
          {opened && <OpenedList opened={opened} shown={listed.length} go={go} />}
          {rows && listed.length === 0 && <NothingFound words={words} />}
          <DefectList
            listed={listed}
            chosen={chosen}
            unsent={unsent}
            address={(one) => bookAddress(fileNumber(one), looked)}
            onOpen={open}
          />
        </>
      }
      legend={<KeyOfMarks />}
      title_keys={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {rows === undefined ? (
        <Loading what="The defect book" />
      ) : show_filters ? (
        <FindSheet
          words={words}
          groups={groups}
          onWords={(written) => setWords(written, 'key')}
          onDone={() => setFilters(false)}
          found={listed.length}
        />
      ) : row ? (
        <RecordSheet
          key={row.record}
          {...props}
          {...{ row, rows }}
          pairs={asked?.pairs ?? []}
          note={
            !(words.trim() || opened) || listed.some((one) => one.row === row) ? null : (
              <NotFound row={row} count={listed.length} first={first} onOpen={open} />
            )
          }
        />
      ) : (
        <NoRecord {...{ shop }} number={shown} every={every ?? NO_ROWS} all={rows.length} />
      )}
    </Sheet>
  );
}

/** A value that may run ahead of the address, until the address changes. */
function useLatest<T>(told: T): { current: T } {
  const latest = useRef(told);
  const before = useRef(told);
  if (before.current !== told) latest.current = told;
  before.current = told;
  return latest;
}

/** The find line, kept in the address: a new search is a step for Back, its next letters are not. */
function useWords({ params, go }: ScreenProps) {
  const [words, setShown] = useState(params.find ?? '');
  const typing = useRef(false);
  const written = useRef(words);
  useEffect(() => {
    addEventListener('popstate', leave);
    return () => removeEventListener('popstate', leave);
  }, []);
  useEffect(() => {
    // Back and links change the address; what is being typed is ahead of it, by any letters.
    if (typing.current || (params.find ?? '') === written.current.trim()) return;
    written.current = params.find ?? '';
    setShown(written.current);
  }, [params.find]);
  const setWords = (next: string, how: 'typed' | 'key') => {
    setShown(next);
    written.current = next;
    const address = bookAddress(params.number, { find: next.trim(), list: params.list });
    go(address, how === 'typed' && typing.current ? 'replace' : undefined);
    typing.current = how === 'typed';
  };
  const leave = () => {
    typing.current = false;
  };
  return { words, setWords, leave };
}

/** The rows listed: of the list that a figure opened, or of all; those that the words find. */
function useListed({ shop, params }: ScreenProps, rows: DefectRow[], words: string) {
  const names = useLive(shop, () => shop.people.names(), []) ?? NOBODY;
  const { definition } = shop;
  const opened = useMemo(
    () => (params.list ? listNamed(rows, shop.today(), params.list) : null),
    [rows, params.list],
  );
  const ordered = useMemo(
    () => noseToTail(among(rows, opened), definition),
    [rows, opened, definition],
  );
  const listed = useMemo(() => {
    if (opened && !words.trim()) return ordered;
    const found = new Set(
      search(
        ordered.map(({ row }) => row),
        words,
        definition,
        names,
      ),
    );
    const left = ordered.filter(({ row }) => found.has(row));
    return left.length === ordered.length
      ? ordered
      : noseToTail(
          left.map(({ row }) => row),
          definition,
        );
  }, [ordered, words, names]);
  return { listed: listed as ListedRow[], opened };
}

function among(rows: DefectRow[], opened: Opened | null): DefectRow[] {
  if (!opened) return rows;
  const records = new Set(opened.records);
  return rows.filter((row) => records.has(row.record));
}

function countedWords(found: number, all: number, words: string, opened: Opened | null): string {
  const whole = opened !== null && !words.trim();
  return `${found} of ${all} records${whole ? ', nose to tail' : ' · raised in error left out'}`;
}

function NothingFound({ words }: { words: string }) {
  return (
    <div class="nothing-found">
      <Empty looked_at title={words.trim() ? `“${words.trim()}” finds nothing` : 'No record yet'}>
        <p>Filters takes words out again and says what can be typed.</p>
      </Empty>
    </div>
  );
}

/** The record shown is none of those found: that is said, with the way to the first of them. */
function NotFound(props: {
  row: DefectRow;
  count: number;
  first: DefectRow | undefined;
  onOpen: (row: DefectRow) => void;
}) {
  const { row, count, first } = props;
  return (
    <div class="record-not-found" role="status">
      <p>
        <b>
          {row.number} is not among the {count} found.
        </b>
      </p>
      {first && (
        <Key
          label={`Open ${first.number}, the first`}
          size="small"
          letters={18}
          onPress={() => props.onOpen(first)}
        />
      )}
    </div>
  );
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
