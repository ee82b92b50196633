import { useState } from 'preact/hooks';
import {
  FigureCell,
  FigureLines,
  FigureTable,
  Key,
  KeyRow,
  ListRow,
  NumberPad,
  PositionBar,
  RivetHead,
  type ScaleMember,
  SheetIndex,
  StationList,
  StationScale,
  TitleBlock,
  TouchOff,
  type Typed,
  typedAfter,
  wholeOf,
  windowAround,
} from '../../furniture/index.ts';
import { Part } from './part.tsx';

const STATIONS = [8, 20, 32, 44, 57, 70, 83, 96, 108, 120, 132, 143, 154, 166, 178, 190, 203, 216];
const MEMBERS: ScaleMember[] = STATIONS.map((station, at) => ({
  name: `F${at + 1}`,
  station,
  main: [12, 14, 15].includes(at),
}));
MEMBERS.splice(12, 0, { name: '12A', station: 148.5, half: true });

const SHEETS = [
  'At the airframe',
  'Defect book',
  'Assessment',
  'Stages',
  'Questions',
  'Reports',
  'Registers',
  'Units fitted',
];

export function Keys() {
  return (
    <Part title="Keys: plain rectangles">
      <KeyRow label="Keys of the desk" apart="desk">
        <Key label="Raise" kind="main" />
        <Key label="Assess" />
        <Key label="Undo" kind="undo" second="state" />
        <Key label="inches" chosen />
        <Key label="mm" chosen={false} />
        <Key label="Clear" unavailable="one stamp missing" />
        <Key label="Find" size="small" />
      </KeyRow>
      <KeyRow label="Keys inside the structure">
        <Key label="7" letters={40} size="inside" />
        <Key label={'SAME\nAGAIN'} second="one bay aft" size="inside" />
        <Key label="working" size="inside" picture={<RivetHead state="W" letter />} />
        <Key
          label="SOUND"
          second="goes on to 25"
          kind="main"
          size="inside"
          letters={28}
          picture={<RivetHead state="S" size={60} />}
        />
      </KeyRow>
    </Part>
  );
}

export function Pad() {
  const [typed, setTyped] = useState<Typed>({ value: '0.01', unit: 'in', not_measured: false });
  const [off, setOff] = useState(false);
  const value = typed.not_measured ? 'not measured' : typed.value || '–';
  return (
    <Part title="Number pad and figures">
      <FigureTable>
        <FigureCell
          caption="Plate thickness, in or SWG"
          value="0.064"
          unit="in"
          second="16 SWG"
          onOpen={() => undefined}
        />
        <FigureCell
          caption="Length"
          value="4.5"
          unit="in"
          second="114 mm"
          onOpen={() => undefined}
        />
        <FigureCell caption="Width" value="3" unit="in" second="76 mm" onOpen={() => undefined} />
        <FigureCell
          caption="Depth, deepest pit · depth gauge DG-1, in date"
          value={value}
          unit={typed.not_measured ? undefined : typed.unit}
          second="type when cleaned"
          span={2}
          active
          onOpen={() => undefined}
        />
        <FigureCell caption="Paint" value="blistered" second="AL7" onOpen={() => undefined} />
      </FigureTable>
      <div class="parts-panel">
        <NumberPad
          {...typed}
          onFigure={(figure) => setTyped((was) => typedAfter(was, { act: 'figure', figure }))}
          onRubOut={() => setTyped((was) => typedAfter(was, { act: 'rub out' }))}
          onUnit={(unit) => setTyped((was) => typedAfter(was, { act: 'unit', unit }))}
          onNotMeasured={() => setTyped((was) => typedAfter(was, { act: 'not measured' }))}
          onNext={() => undefined}
          onUndo={() => setTyped((was) => typedAfter(was, { act: 'clear' }))}
          onTouchOff={() => setOff(true)}
          next="cleaned"
          undo="last answer"
        />
      </div>
      {off && <TouchOff onRelease={() => setOff(false)} />}
    </Part>
  );
}

export function Borders({ side }: { side: string }) {
  const [station, setStation] = useState(148);
  const window = windowAround(station, wholeOf(MEMBERS), 592);
  return (
    <Part title="Borders and title blocks">
      <StationScale
        members={MEMBERS}
        window={window}
        position={station}
        position_text={station.toFixed(1)}
        onPick={(at) => setStation(Math.round(at * 2) / 2)}
      />
      <PositionBar
        cells={[
          { caption: 'Structure', value: 'Hull', onOpen: () => undefined },
          { caption: 'Hand', value: 'Stbd', onOpen: () => undefined },
          {
            caption: `Sta ${station} · zone 221`,
            value: 'F12 + 5.0',
            onOpen: () => undefined,
            wide: true,
          },
          { caption: 'Strakes', value: 'B2–B3', onOpen: () => undefined, open: true },
        ]}
      />
      <TitleBlock
        variant="airframe"
        cells={[
          { caption: 'Airframe', value: '2603' },
          { caption: 'Inspector 2', value: 'stamp 12' },
          { caption: 'Tablet', value: 'B' },
          {
            caption: 'Waiting',
            caption_spoken_only: true,
            value: ['3 records,', '5 photographs waiting'],
          },
          { caption: 'Oldest unsent', value: '5 days', error: true },
        ]}
      />
      <SheetIndex
        digits={false}
        label={`Sheets, ${side}`}
        fields={SHEETS.map((name, at) => ({ name, href: `#${side}-${at + 1}`, open: at === 1 }))}
      />
      <TitleBlock
        variant="desk"
        cells={[
          { caption: 'Airframe', value: 'Marram 7 · 2603' },
          { caption: 'Sheet', value: 'Defect book' },
          { caption: 'Lead', value: 'stamp 01' },
          { caption: 'As at', value: '2025-09-10' },
        ]}
      />
    </Part>
  );
}

export function Lists() {
  return (
    <Part title="List on a station line, figures at the desk">
      <div class="parts-list">
        <StationList label="Records, nose to tail">
          <ListRow
            number="A/0001"
            mark={{ grade: 2, state: 'Cleared' }}
            right="Grade 2 · Cleared"
            below="Port · F5 + 6.5 · B1–B2 · pitting"
            member={{ name: 'F5', station: '57' }}
            href="#a1"
          />
          <ListRow
            number="A/0002"
            mark={{ grade: 3, state: 'Assessed' }}
            right="Grade 3 · Assessed"
            below="Port · F6 + 2.0 · K–B1 · pitting"
            member={{ name: 'F6', station: '70' }}
            href="#a2"
            chosen
          />
          <ListRow
            number="B/0015"
            mark={{ grade: 3, state: 'Raised' }}
            right="Grade 3 · Raised"
            below="Port · F6 + 2.5 · K–B1 · pitting"
            href="#b15"
            changed
            stored="1 copy, this tablet"
          />
          <ListRow
            number="A/0004"
            mark={{ grade: 4, state: 'In work' }}
            right="Grade 4 · In work"
            below="Stbd · F7 · K–B1 · crevice"
            member={{ name: 'F7', station: '83' }}
            href="#a4"
          />
        </StationList>
        <FigureLines
          lines={[
            { name: 'thickness', value: '0.064 in', second: '16 SWG' },
            { name: 'length', value: '5.5 in', second: '140 mm' },
            { name: 'depth', value: '0.011 in', second: 'DG-1' },
          ]}
        />
      </div>
    </Part>
  );
}
