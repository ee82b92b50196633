import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { DeskKey, KeyRow, Loading } from '../../furniture';
import { type AskedPair, pairsOf, rowsOfPair } from '../../services/pairs';
import type { DefectRow, Json, ScreenProps } from '../../services/shop';
import { useFetched } from '../frame/fetched';
import { OvertakenLine } from '../frame/overtaken_line';
import { useLive } from '../live';
import { type Picture, usePhotographs } from '../photograph/pictures';
import { AskedHere, AskedKeys, askedOf } from './asked_here';
import { CrackRecord } from './crack_record';
import { isCrack } from './crack_values';
import { DeferralLine, LookAgainLine } from './decided_lines';
import { DecidedPairs, Neighbours } from './decided_pairs';
import { HeadPicture, OneDetail } from './details';
import { Figures } from './figures';
import { FoundLine } from './found_line';
import { RecordHead } from './head';
import { History } from './history';
import { RivetLines, useRivetLines } from './rivet_lines';
import { Rolling } from './rolling';
import { Stamps } from './stamps';
import { Where } from './where';

export { Details } from './details';
export { Figures } from './figures';
export { RecordHead } from './head';

export type RecordProps = ScreenProps & {
  row: DefectRow;
  rows: readonly DefectRow[];
  pairs: readonly AskedPair[];
  /** What is said of the sheet itself, over it. */
  note?: ComponentChildren;
};

type Section = 'record' | 'crack' | 'line' | 'view' | 'history' | 'stamps';

/** One record on one sheet: what and how bad, where, figures and reasons, what is asked. */
export function RecordSheet(props: RecordProps) {
  const { shop, go, row } = props;
  const values = useLive(shop, () => shop.book.plain(row.record), [row.record]) ?? {};
  const photographs = usePhotographs(shop, row.record) ?? [];
  const lines = useRivetLines(shop, row.record);
  const [section, setSection] = useState<Section>('record');
  const [shown, setShown] = useState<string | null>(null);
  const [is_asking, setAsking] = useState(false);
  const asked = askedOf(props, shown);
  // Who opens a record asks the server: a figure may have come since the last round.
  useEffect(() => {
    if (shop.device) void shop.exchange.sendNow();
  }, [shop, row.record]);
  const stages = useLive(shop, () => shop.book.records('stage'), []) ?? [];
  const date = stages.find(({ title }) => title === row.stage)?.date;
  const sections: [Section, string][] = [
    ['record', 'Record'],
    ...(isCrack(row.kind) ? [['crack', 'Crack record'] as [Section, string]] : []),
    ...(lines.length > 0 ? [['line', 'Rivet line'] as [Section, string]] : []),
    ...(photographs.length > 0 ? [['view', 'Same view'] as [Section, string]] : []),
    ['history', 'History'],
    ['stamps', `Stamps${row.stamps.length > 0 ? ` · ${row.stamps.length}` : ''}`],
  ];
  return (
    <article class={`record record-desk${is_asking ? ' asking' : ''}${props.note ? ' noted' : ''}`}>
      {props.note}
      <RecordHead
        row={row}
        values={values}
        definition={shop.definition}
        picture={is_asking && <HeadPicture {...{ shop, row, photographs }} />}
        stage_date={typeof date === 'string' ? date : undefined}
      />
      <div class="record-parts">
        <KeyRow apart="desk" label="Parts of the sheet">
          {sections.map(([name, label]) => (
            <DeskKey
              key={name}
              label={label}
              chosen={section === name}
              onPress={() => setSection(name)}
            />
          ))}
        </KeyRow>
        <AskedKeys asked={asked} onShow={setShown} />
      </div>
      <Rolling key={section} label={`${row.number}: ${section}`} place="record-rolls">
        {section === 'record' && <FirstPart {...props} values={values} photographs={photographs} />}
        {section === 'crack' && <CrackRecord shop={shop} row={row} values={values} />}
        {section === 'line' && <RivetLines lines={lines} row={row} definition={shop.definition} />}
        {section === 'view' && <ViewPart {...{ shop, go, row, photographs }} />}
        {section === 'history' && <History shop={shop} row={row} />}
        {section === 'stamps' && <Stamps shop={shop} row={row} />}
      </Rolling>
      <AskedHere {...props} {...{ asked, values, photographs }} onForm={setAsking} />
    </article>
  );
}

/** Pictures of one view, loaded when they are asked for. */
function ViewPart(props: Pick<RecordProps, 'shop' | 'go' | 'row'> & { photographs: Picture[] }) {
  const part = useFetched(() => import('../same_view/record_view'));
  return part ? <part.RecordView {...props} /> : <Loading what="Pictures of the same view" />;
}

function FirstPart(props: RecordProps & { values: Record<string, Json>; photographs: Picture[] }) {
  const { shop, row, rows, values, photographs } = props;
  return (
    <>
      <OvertakenLine row={row} />
      <FoundLine shop={shop} row={row} />
      <DeferralLine shop={shop} row={row} />
      <div class="record-where">
        <Where shop={shop} row={row} />
        <OneDetail shop={shop} row={row} photographs={photographs} />
      </div>
      <Figures shop={shop} row={row} values={values} />
      <LookAgainLine row={row} values={values} />
      <Decided {...props} />
      <Neighbours row={row} rows={rows} />
    </>
  );
}

/** Pairs of this record that were decided, each with the way back. */
function Decided({ shop, row, rows, pairs, go }: RecordProps) {
  const mine = pairsOf(row.record, pairs)
    .filter(({ decided }) => decided !== null)
    .flatMap((pair) => {
      const both = rowsOfPair(pair, rows);
      return both ? [{ pair, both }] : [];
    });
  return <DecidedPairs shop={shop} row={row} decided={mine} go={go} />;
}
