import type { DefectRow, Json, Shop, Written } from '../../services/shop';
import { useLive } from '../live';

/** Who found it and who raised it, where those are two people. */
export function FoundLine({ shop, row }: { shop: Shop; row: DefectRow }) {
  const written = useLive(shop, () => shop.book.written(row.record, 'state'), [row.record]) ?? [];
  const names = useLive(shop, () => shop.people.names(), []) ?? {};
  const words = foundWords(written, names);
  return words ? <p class="decided-line">{words}</p> : null;
}

/** "Found by Inspector 1 2025-11-02, raised by Inspector 2 2025-11-03"; else nothing. */
export function foundWords(
  states: readonly Pick<Written, 'date' | 'by' | 'value'>[],
  names: Readonly<Record<string, string>>,
): string {
  const [first] = states;
  const raised = states.find(({ value }) => ['raise', 'nil'].includes(moveOf(value)));
  if (!first || !raised || first.by === raised.by) return '';
  const told = ({ by, date }: Pick<Written, 'by' | 'date'>) => `${names[by] ?? by} ${date}`;
  return `Found by ${told(first)}, raised by ${told(raised)}`;
}

function moveOf(value: Json): string {
  return String((value as { move?: Json } | null)?.move ?? '');
}
