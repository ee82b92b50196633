import { useState } from 'preact/hooks';
import { Loading, Sheet, TitleBlock, TouchOff } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { OvertakenLine } from '../frame/overtaken_line';
import { RecordScale } from '../frame/record_scale';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote } from '../frame/trouble';
import { useLive } from '../live';
import { useAnswers } from './answers';
import { Figures } from './figures_table';
import { GradeBlock } from './grade_block';
import { Head } from './head';
import { useInstrument } from './instrument';
import { MeasureKeys } from './measure_keys';
import { partsAt } from './parts';
import { Shown } from './shown';
import { useHandKept, usePairs } from './wrong_hand';
import './screen.css';

/** One record being measured: kind, figures, and the grade with its reasons as they go in. */
export default function Measure(props: ScreenProps) {
  const { shop, params } = props;
  const number = params.number ?? '';
  const row = useLive(shop, async () => (await shop.book.numbered(number))[0] ?? null, [number]);
  const title = useAirframeTitle(shop);
  if (row === undefined || (row && !shop.definition))
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        <Loading what={`Record ${number}`} />
      </Sheet>
    );
  if (row === null)
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        <p class="no-record">
          No record {number} is on this tablet. <a href="/airframe">Back to the airframe</a>
        </p>
      </Sheet>
    );
  return <OneRecord key={row.record} {...props} row={row} />;
}

function OneRecord(props: ScreenProps & { row: DefectRow }) {
  const { shop, row, go } = props;
  const title = useAirframeTitle(shop);
  const [touchOff, setTouchOff] = useState(false);
  const instrument = useInstrument(shop);
  const structure = shop.definition?.structures.find((one) => one.name === row.structure);
  const parts = partsAt(structure, row.place);
  const unit = structure?.unit === 'mm' ? 'mm' : 'in';
  const answers = useAnswers(props, row, {
    thickness: parts[0]?.thickness ?? null,
    unit,
    accuracy: instrument.accuracy,
    measured: instrument.measured,
  });
  const pairs = usePairs(shop, row);
  const [hand_kept, onKeepHand] = useHandKept(shop, row.record);
  const { values, graded } = answers;
  return (
    <>
      <Sheet
        layout="airframe"
        hand={instrument.looking.hand}
        top={<RecordScale shop={shop} row={row} />}
        keys={
          <MeasureKeys
            {...{ shop, go, row, answers, instrument, parts, unit, pairs, hand_kept, onKeepHand }}
            onTouchOff={() => setTouchOff(true)}
          />
        }
        title={
          <TitleBlock
            variant="airframe"
            cells={title}
            angle={answers.graded.section ? 'first' : undefined}
          />
        }
      >
        <div class="measure-view">
          <Head
            {...{ shop, row }}
            onAddress={(address) => void answers.leaveFor(null, address)}
            onLater={() => void answers.leaveFor(null)}
          />
          <OvertakenLine row={row} />
          <TroubleNote trouble={answers.trouble} />
          {values.kind !== undefined && <GradeBlock graded={graded} face={row.place?.face} />}
          {values.kind !== undefined && (
            <Figures answers={answers} row={row} instrument={instrument.words} />
          )}
          <Shown shop={shop} row={row} />
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}
