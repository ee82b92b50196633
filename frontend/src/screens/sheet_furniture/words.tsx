import {
  Correction,
  Empty,
  ErrorFrame,
  Key,
  Loading,
  Question,
  SafetyLine,
  StoredNumber,
  TwoValues,
} from '../../furniture/index.ts';
import { Part } from './part.tsx';

const VALUES = [
  {
    id: 'a',
    value: '0.250 in',
    who: 'Inspector 1, tablet A',
    counts_now: true,
    key_label: '0.250',
  },
  { id: 'b', value: '0.240 in', who: 'Inspector 2, tablet B', key_label: '0.240' },
];

export function Strips() {
  return (
    <Part title="Questions, two values, copies, empty, wrong">
      <Question
        title="Same defect?"
        text="B/0015 lies 0.5 in aft. Same hand, strakes and kind."
        aside={'Both numbers live on.\nWorse counts until chosen.'}
        keys={
          <>
            <Key label="Same defect" kind="main" size="small" letters={18} />
            <Key label="Two defects" size="small" letters={18} />
            <Key label="Wrong hand" size="small" letters={18} unavailable="both are port" />
          </>
        }
      />
      <TwoValues
        text="Depth of dent, A/0013. The worse counts until you do."
        values={VALUES}
        onChoose={() => undefined}
      />
      <p class="parts-row start">
        <StoredNumber number="B/0017" stored="1 copy, this tablet" />
        <StoredNumber number="A/0002" />
      </p>
      <p>
        <Correction was="0.010 in" now="0.011 in" by="Inspector 1, 2025-03-08" why="gauge zero" />
      </p>
      <div class="parts-pair">
        <Empty title="Zone 131: no record" cells="0 of 36 cells looked at" looked_at={false} />
        <ErrorFrame
          title="Picture not stored"
          text={'The tablet is full. 38 wait to be sent.\nRack it, or write a memory-stick file.'}
        />
        <Empty title="Zone 510: no record" cells="12 of 12 cells looked at" looked_at />
        <Loading what="Records of zone 111" />
      </div>
      <SafetyLine wording="short" />
      <SafetyLine wording="full" />
    </Part>
  );
}
