import { figureText, isQuantity } from '../../domain/quantities';
import { overruledWords } from '../../services/assessment';
import type { DefectRow, Json, Shop } from '../../services/shop';
import { useLive } from '../live';

const TIMES = ['', '2nd', '3rd'];

/** What was put off, until when, on whose authority, and for the how-manieth time. */
export function DeferralLine({ shop, row }: { shop: Shop; row: DefectRow }) {
  const written =
    useLive(shop, () => shop.book.written(row.record, 'deferral'), [row.record]) ?? [];
  const deferral = row.deferral as Record<string, Json | undefined> | null;
  if (!deferral || !row.states.includes('Deferred')) return null;
  const count = written.filter(({ value }) => value !== null).length;
  const words = [
    `look again by ${deferral.look_again_by ?? 'no day given'}`,
    `limit: ${limitWords(deferral.limit)}`,
    `why: ${written.findLast(({ value }) => value !== null)?.why ?? 'no reason given'}`,
    `authority: ${deferral.authority ?? 'none given'}`,
    count > 1 && `${TIMES[count - 1] ?? `${count}th`} deferral`,
    row.raised_on && `raised ${row.raised_on}`,
  ];
  const isDue = row.look_again_by !== null && row.look_again_by <= shop.today();
  return (
    <p class="decided-line">
      <b>
        Deferred to {[deferral.to_stage, deferral.to_date].filter(Boolean).join(', ') || 'nothing'}
        {isDue && ' – the day to look again has come'}
      </b>
      {' · '}
      {words.filter(Boolean).join(' · ')}
    </p>
  );
}

function limitWords(limit: Json | undefined): string {
  if (isQuantity(limit)) return figureText(limit);
  return typeof limit === 'string' && limit ? limit : 'none given';
}

/** The overrule that stands, in words, to be shown beside the rules it goes against. */
export function useOverruled(shop: Shop, row: DefectRow): string | null {
  const written = useLive(shop, () => shop.book.written(row.record, 'overrule'), [row.record]);
  const last = written?.findLast(({ value }) => value !== null) ?? null;
  return written ? overruledWords(row, last) : null;
}

/** What an inspector was asked to look at again, and the answer. */
export function LookAgainLine({ values }: { row: DefectRow; values: Record<string, Json> }) {
  const asked = values.look_again as { tablet?: string; ask?: string; answer?: string } | null;
  if (!asked) return null;
  return (
    <p class="decided-line">
      <b>Look again</b> · tablet {asked.tablet ?? '?'}: {asked.ask}
      {asked.answer ? ` · answered: ${asked.answer}` : ' · not answered yet'}
    </p>
  );
}
