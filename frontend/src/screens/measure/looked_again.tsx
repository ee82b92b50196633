import { Key, Question } from '../../furniture';
import type { DefectRow, Json, Shop } from '../../services/shop';
import { questionOf } from '../airframe/look_again';
import type { Answers } from './answers';

/** What the lead asked, to be answered where it was seen; no change only after a measurement. */
export function LookedAgain(props: {
  shop: Shop;
  row: DefectRow;
  answers: Answers;
  /** Something was written on this record just now: a figure or a picture. */
  measured: boolean;
}) {
  const { shop, row, answers, measured } = props;
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
            unavailable={first}
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
