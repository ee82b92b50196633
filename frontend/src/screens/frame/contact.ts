import { useEffect, useState } from 'preact/hooks';
import type { ExchangeState, Shop, Waiting } from '../../services/shop';

/** How the exchange with the server stands, followed as it changes. */
export function useExchange(shop: Shop): ExchangeState {
  const [state, setState] = useState(shop.exchange.state);
  useEffect(() => shop.subscribe(() => setState({ ...shop.exchange.state })), [shop]);
  return state;
}

/** "Last contact with the server: 4 minutes ago." */
export function contactWords(state: ExchangeState, now: number): string {
  if (state.last_contact_ms === null) return 'No contact with the server yet.';
  const minutes = Math.round((now - state.last_contact_ms) / 60_000);
  if (minutes < 1) return 'Last contact with the server: just now.';
  if (minutes < 120) return `Last contact with the server: ${minutes} minutes ago.`;
  const hours = Math.round(minutes / 60);
  if (hours < 48) return `Last contact with the server: ${hours} hours ago.`;
  return `Last contact with the server: ${Math.round(hours / 24)} days ago.`;
}

/** Rather more than a round: a server that was not met in it is not called here. */
const HERE_MS = 45_000;

/** "server here", "server away since 10:14": whether the server is within reach of this browser. */
export function reachWords(state: ExchangeState, shop: Pick<Shop, 'now' | 'moment'>): string {
  const { last_contact_ms: last, away } = state;
  if (state.shut) return 'server lets nobody in here';
  if (last === null) return away ? 'server away' : 'server not asked yet';
  if (away) return `server away since ${sinceWords(last, shop)}`;
  if (shop.now() - last < HERE_MS) return 'server here';
  return state.running ? 'asking the server …' : `server here at ${sinceWords(last, shop)}`;
}

/** The time of day, of another day the day: "10:14", "2 Nov". */
function sinceWords(ms: number, shop: Pick<Shop, 'now' | 'moment'>): string {
  const [day, time] = shop.moment(ms);
  const [today] = shop.moment(shop.now());
  if (day === today) return time;
  return `${Number(day.slice(8))} ${MONTHS[Number(day.slice(5, 7)) - 1]}`;
}

const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/** "38 photographs, 14 records sent"; nothing where nothing was sent since something waited. */
export function sentWords({ sent, away }: ExchangeState, waiting: Waiting): string {
  if (!sent || away || (sent.all && waiting.entries + waiting.files > 0)) return '';
  const parts = [
    counted(sent.photographs, 'photograph'),
    counted(sent.records, 'record'),
    counted(sent.bays, 'bay'),
  ];
  return `${parts.filter(Boolean).join(', ')} sent`;
}

/** The same with what is left: "38 photographs, 14 records sent – 2 waiting". */
export function sentAndWaiting(state: ExchangeState, waiting: Waiting): string {
  const sent = sentWords(state, waiting);
  const { records, bays, photographs, entries, files } = waiting;
  const left = records + bays + photographs || entries + files;
  return sent && `${sent} – ${left || 'nothing'} waiting`;
}

function counted(count: number, one: string): string {
  return count === 0 ? '' : `${count} ${one}${count === 1 ? '' : 's'}`;
}
