import type { DefectRow, Json, Shop } from '../../services/shop';
import { useLive } from '../live';

const NOTHING: Record<string, string[]> = {};

/** What this device wrote today that the server has: each record and bay, the rest counted. */
export function SentToday({ shop, rows }: { shop: Shop; rows: readonly DefectRow[] }) {
  const device = shop.device?.letter ?? shop.device?.tablet ?? '';
  const sent =
    useLive(shop, () => shop.book.sentOn(shop.moment(shop.now())[0], device), [device]) ?? NOTHING;
  const looks = useLive(shop, () => shop.book.records('coverage'), []) ?? [];
  const { defect = [], coverage = [], ...others } = sent;
  const found = rows.filter((row) => defect.includes(row.record));
  const bays = looks.filter((look) => coverage.includes(look.record)).map(lookWords);
  const rest = Object.entries(others).map(([kind, some]) => countedWords(kind, some.length));
  return (
    <section class="waiting-today">
      <h2>Sent today</h2>
      {found.length + bays.length + rest.length === 0 && <p>Nothing yet.</p>}
      <ul>
        {found.map((row) => (
          <li key={row.record}>
            <strong>{row.number}</strong> {row.place_words} · {row.kind_words}
          </li>
        ))}
        {bays.map((words) => (
          <li key={words}>{words}</li>
        ))}
        {rest.length > 0 && <li>{rest.join(', ')}</li>}
      </ul>
    </section>
  );
}

/** "Hull F6–F7 port: looked at"; "…: not looked at, tank". */
export function lookWords(look: Record<string, Json>): string {
  const { structure, bay, hand, face } = (look.cell ?? {}) as Record<string, Json>;
  const side = hand === 'P' ? ' port' : hand === 'S' ? ' starboard' : '';
  const where = `${structure ?? ''} ${Array.isArray(bay) ? bay.join('–') : ''}${side}`;
  const part = typeof face === 'string' ? `, ${face}` : '';
  const why = typeof look.blocked === 'string' ? `not looked at, ${look.blocked}` : 'looked at';
  return `${where}${part}: ${why}`;
}

/** "2 photographs". */
export function countedWords(kind: string, count: number): string {
  return `${count} ${kind.replaceAll('_', ' ')}${count === 1 ? '' : 's'}`;
}
