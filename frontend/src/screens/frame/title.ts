import { useEffect, useState } from 'preact/hooks';
import type { TitleCell } from '../../furniture';
import type { Shop, StatusLine } from '../../services/shop';
import { reachWords, sentWords } from './contact';
import { roleWords } from './words';

/** Cells of the title block at the airframe: what, who, which tablet, what waits, room, battery. */
export function useAirframeTitle(shop: Shop, survey?: string): TitleCell[] {
  const line = useStatus(shop);
  const cells = [useAirframeCell(shop), ...(survey ? [{ caption: 'Survey', value: survey }] : [])];
  const notes = useNotes(shop, line);
  const waits = shop.device ? statusCells(line, notes) : [];
  return [...cells, personCell(shop), tabletCell(shop), ...waits];
}

/** Cells of the title block at the desk. */
export function useDeskTitle(shop: Shop, sheet: string): TitleCell[] {
  const line = useStatus(shop);
  const notes = useNotes(shop, line);
  return [
    { ...airframeCell(shop), ...(shop.session && sheet !== 'Airframes' ? OTHERS : {}) },
    { caption: 'Sheet', value: sheet },
    personCell(shop),
    ...(shop.device ? [waitingCell(line, notes)] : []),
    { caption: 'As at', value: shop.today(), notes: askedNotes(shop) },
  ];
}

/** When the server was met last: what is shown here is as of then. */
function askedNotes(shop: Shop): string[] {
  const last = shop.device ? shop.exchange.state.last_contact_ms : null;
  if (last === null) return [];
  const [day, time] = shop.moment(last);
  return [day === shop.today() ? time : `as of ${day} ${time}`];
}

/** What waits on this browser, asked again after each change of the book. */
export function useStatus(shop: Shop): StatusLine | undefined {
  const [line, setLine] = useState<StatusLine>();
  useEffect(() => {
    const ask = () => {
      // A browser that holds no book yet has nothing that could wait.
      if (shop.device) shop.status.line().then(setLine, () => undefined);
    };
    ask();
    return shop.subscribe(ask);
  }, [shop]);
  return line;
}

/** Where the airframe is chosen and described. */
const OTHERS = { href: '/airframes' };

/** At the airframe the cell is a key only where there is another one to go to. */
function useAirframeCell(shop: Shop): TitleCell {
  const [others, setOthers] = useState({});
  useEffect(() => {
    if (shop.session && shop.device)
      shop.places.airframes().then(
        (all) => setOthers(all.length > 1 ? OTHERS : {}),
        () => undefined,
      );
  }, [shop, shop.airframe, shop.session?.person]);
  return { ...airframeCell(shop), ...others };
}

function airframeCell(shop: Shop): TitleCell {
  return { caption: 'Airframe', value: shop.airframe?.constructor_number ?? '–' };
}

function personCell(shop: Shop): TitleCell {
  const { session } = shop;
  if (!session) return { caption: 'Person', value: 'nobody signed in' };
  const stamp = session.stamp_number ? `stamp ${session.stamp_number}` : roleWords(session.role);
  return { caption: session.name, value: stamp };
}

function tabletCell(shop: Shop): TitleCell {
  const { device } = shop;
  return { caption: device?.letter ? 'Tablet' : 'Desk', value: device?.letter ?? 'no letter' };
}

/** Whether the server is here, and what was sent since something last waited. */
function useNotes(shop: Shop, line: StatusLine | undefined): string[] {
  const [, paint] = useState(0);
  useEffect(() => shop.subscribe(() => paint((times) => times + 1)), [shop]);
  if (!shop.device) return [];
  const { state } = shop.exchange;
  const sent = line ? sentWords(state, line.waiting) : '';
  return [reachWords(state, shop), sent].filter(Boolean);
}

function statusCells(line: StatusLine | undefined, notes: string[]): TitleCell[] {
  const cells = [waitingCell(line, notes)];
  if (!line) return cells;
  if (line.room_photographs !== null)
    cells.push({ caption: 'Photos left', value: String(line.room_photographs) });
  if (line.battery_percent !== null)
    cells.push({ caption: 'Battery', value: `${line.battery_percent} %` });
  return cells;
}

/** "3 records, 5 photographs waiting"; from 5 days on with the error sign. */
function waitingCell(line: StatusLine | undefined, notes: string[]): TitleCell {
  const words = line?.waiting_words ?? 'counting …';
  const cut = words.lastIndexOf(', ');
  return {
    caption: 'Waiting on this tablet',
    caption_spoken_only: true,
    notes,
    value: cut < 0 ? [words] : [words.slice(0, cut + 1), words.slice(cut + 2)],
    error: line?.waiting_weight === 'error',
  };
}
