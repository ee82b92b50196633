import { sameness } from '../../domain/values';
import { Key, Question } from '../../furniture';
import type { DefectRow, Json, Shop, Written } from '../../services/shop';
import { questionOf } from '../airframe/look_again';
import { useLive } from '../live';
import type { Answers } from './answers';
import { type Asked, isOpen } from './asked';

/** What the lead asked, to be answered where it was seen; no change only after a measurement. */
export function LookedAgain(props: {
  shop: Shop;
  row: DefectRow;
  answers: Answers;
  /** Something was written on this record just now: a figure or a picture. */
  measured: boolean;
}) {
  const { shop, row, answers, measured } = props;
  const changed = useLive(
    shop,
    async () => (row.look_again ? changedSince(shop, row.record, answers.asked) : []),
    [row.record, row.kind, row.look_again !== null],
  );
  if (!row.look_again) return null;
  const answer = (words: string) =>
    void answers.run(async () => {
      const look_again = { ...(row.look_again as Record<string, Json>), answer: words };
      if (shop.session) await shop.capture.setFields(shop.session, row.record, { look_again });
    });
  const first = measured ? undefined : 'measure it or take a picture first';
  return (
    <Question
      title="Look again"
      text={questionOf(row)}
      keys={
        <>
          <Key
            label="NO CHANGE"
            size="inside"
            unavailable={first ?? changedWords(changed ?? [])}
            onPress={() => answer('no change')}
          />
          <Key
            label="CHANGED"
            second="as measured"
            size="inside"
            unavailable={first}
            onPress={() => answer('changed, as measured')}
          />
        </>
      }
    />
  );
}

/** Labels of the figures that are others now than when it was asked. */
async function changedSince(shop: Shop, record: string, asked: readonly Asked[]) {
  const questions = await shop.book.written(record, 'look_again');
  const since = questions.findLast((one) => !(one.value as Record<string, Json> | null)?.answer);
  if (!since) return [];
  const figures = asked.filter((one) => one.type !== 'word' && one.type !== 'yes_no');
  const written = await Promise.all(figures.map((one) => shop.book.written(record, one.field)));
  return figures
    .filter((one, at) => isChanged(one.field, written[at] ?? [], since.entry))
    .map((one) => one.label.toLowerCase());
}

/** Whether a figure was written after an entry that is another than the last one before it. */
export function isChanged(field: string, written: readonly Written[], since: string): boolean {
  const before = written.findLast((one) => one.entry < since)?.value ?? null;
  const now = written.at(-1)?.value ?? null;
  if (isOpen(now)) return false;
  return sameness('defect', field, before) !== sameness('defect', field, now);
}

/** "the depth is another now". */
function changedWords(labels: readonly string[]): string | undefined {
  const [label] = labels;
  return label === undefined ? undefined : `${label} is another figure now`;
}
