import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { ListRow, StationList } from '../../furniture';
import type { DefectRow } from '../../services/shop';
import { afterPaint } from '../frame/after_paint';
import { markOf } from '../frame/record_mark';
import { fileNumber } from './address';
import { drawnRows, rowAt, scrollTo, topsOf } from './list_window';
import type { ListedRow } from './order';

const ROW_PX = 63;
const STORED_PX = 20;

/** The list nose to tail; of thousands only the rows in sight are drawn. */
export function DefectList(props: {
  listed: ListedRow[];
  chosen: string | undefined;
  unsent: ReadonlySet<string>;
  address: (row: DefectRow) => string;
  onOpen: (row: DefectRow) => void;
}) {
  const { listed, chosen, unsent } = props;
  const box = useRef<HTMLDivElement>(null);
  const [place, setPlace] = useState({ scroll: 0, high: 800 });
  const seen = useRef<{ scroll: number; high: number } | null>(null);
  const tops = useMemo(
    () => topsOf(listed.map(({ row }) => ROW_PX + (unsent.has(row.record) ? STORED_PX : 0))),
    [listed, unsent],
  );
  const at = useMemo(
    () => listed.findIndex(({ row }) => fileNumber(row) === chosen),
    [listed, chosen],
  );
  const look = () => {
    const { current } = box;
    if (!current) return;
    const { scrollTop: scroll, clientHeight: high } = current;
    seen.current = { scroll, high };
    setPlace((was) => (was.scroll === scroll && was.high === high ? was : { scroll, high }));
  };
  useEffect(() => {
    look();
    addEventListener('resize', look);
    return () => removeEventListener('resize', look);
  }, []);
  const bring = () => {
    const { current } = box;
    const { scroll, high } = seen.current ?? {};
    if (!current || at < 0 || scroll === undefined || high === undefined) return;
    const to = scrollTo(tops, at, scroll, high);
    if (to === null) return;
    current.scrollTop = to;
    look();
  };
  const sure = useRef(() => {});
  sure.current = () => {
    look();
    bring();
  };
  useLayoutEffect(() => {
    if (at < 0) return;
    if (!seen.current) look();
    // By what was seen at the last roll: to ask the browser now would lay the sheet out twice. It
    // is asked when the step is painted.
    bring();
    afterPaint(() => sure.current());
  }, [at, tops]);
  const drawn = drawnRows(tops, place.scroll, place.high);
  const left = listed.length - 1 - rowAt(tops, place.scroll + place.high - 1);
  return (
    <>
      <div class="list-window" ref={box} onScroll={look}>
        <StationList label="Records, nose to tail">
          <Gap px={drawn.above} />
          {listed.slice(drawn.from, drawn.to).map(({ row, member }, one) => (
            <OneRow
              key={row.record}
              row={row}
              member={member}
              of={[drawn.from + one + 1, listed.length]}
              chosen={fileNumber(row) === chosen}
              stored={unsent.has(row.record) ? '1 copy, this tablet' : undefined}
              href={props.address(row)}
              onOpen={() => props.onOpen(row)}
            />
          ))}
          <Gap px={drawn.below} />
        </StationList>
      </div>
      <p class="list-left" aria-hidden="true">
        {left > 0 ? `▾ ${left} more below` : 'end of the list'}
      </p>
    </>
  );
}

/** Room for the rows that are not drawn. */
function Gap({ px }: { px: number }) {
  if (px <= 0) return null;
  return (
    <li class="list-gap" aria-hidden="true">
      <svg width="1" height={px} />
    </li>
  );
}

function OneRow(props: {
  row: DefectRow;
  member: ListedRow['member'];
  of: [at: number, all: number];
  chosen: boolean;
  stored: string | undefined;
  href: string;
  onOpen: () => void;
}) {
  const { row, member, stored, chosen, href } = props;
  const [at, all] = props.of;
  // A step changes two rows of those in sight: the others are not drawn again.
  return useMemo(
    () => (
      <ListRow
        number={row.number ?? ''}
        mark={markOf(row)}
        right={`${row.grade_words} · ${row.state}`}
        below={belowWords(row)}
        {...{ member, stored, chosen, href }}
        of={[at, all]}
        onOpen={props.onOpen}
      />
    ),
    [row, member, stored, chosen, href, at, all],
  );
}

/** "Port · F6 + 2.0 · K–B1 · pitting": hand, place and kind in the words that a row has room for. */
export function belowWords(row: DefectRow): string {
  const off = row.place?.off;
  const hand = off ? '' : row.hand === 'P' ? 'Port' : row.hand === 'S' ? 'Stbd' : 'Centre';
  const strakes = [...new Set(row.place?.strakes ?? [])].join('–');
  const face = strakes ? '' : (row.place?.face ?? '');
  const kind = (row.kind_words ?? '')
    .toLowerCase()
    .replace(/^looked at – /, '')
    .replace(/ (corrosion|rivets|hole)$/, '');
  const at = off ? `${off} · ${row.place?.part ?? ''}` : alongWords(row);
  return [hand, at, strakes || face, kind].filter(Boolean).join(' · ');
}

/** "F6 + 2.0 to F7": the position as the place reads today, without the way the axis runs. */
function alongWords(row: DefectRow): string {
  const { member } = row;
  const parts = (row.place_words ?? '').split(' · ');
  const along = parts.find((one) => member && one.startsWith(member)) ?? member ?? '';
  return along.replaceAll(/ (aft|outboard|forward|inboard|up|down)\b/g, '');
}
