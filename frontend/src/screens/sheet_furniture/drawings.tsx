import {
  AreaMeant,
  Balloon,
  ChangeBar,
  DetailPicture,
  DimensionLine,
  FwdArrow,
  type LabelledMark,
  NotLookedAt,
  ViewFrame,
  ViewMarks,
  WaxArrow,
  WaxRing,
} from '../../furniture/index.ts';
import { PlateSection } from '../../furniture/section.tsx';
import metal from './metal.svg?url&no-inline';
import { Part, Shown } from './part.tsx';

const LIMITS = [
  { share: 0.1, label: '10 %' },
  { share: 0.5, label: '50 %' },
];

const MARKS: LabelledMark[] = [
  { id: 'a1', number: 'A/0001', grade: 2, state: 'Cleared', x: 118, y: 94 },
  { id: 'a2', number: 'A/0002', grade: 3, state: 'Assessed', x: 200, y: 48 },
  { id: 'a3', number: 'A/0003', grade: 3, state: 'Assessed', x: 222, y: 94 },
  { id: 'b17', number: 'B/0017', grade: 2, at_least: true, state: 'Raised', x: 470, y: 94 },
];

export function Views() {
  return (
    <Part title="Views: title, nose, area meant, not looked at">
      <div class="parts-row start">
        <FwdArrow fwd="left" />
        <FwdArrow fwd="up" />
        <FwdArrow fwd="towards you" />
      </div>
      <ViewFrame title="SHELL EXPANSION, SEEN FROM INSIDE" fwd="left" second="touch picks the bay">
        <svg viewBox="0 0 592 164" aria-label="Records on the bottom, F5 to F9">
          <NotLookedAt x={296} y={2} width={198} height={70} />
          <Grid />
          <AreaMeant d="M98 142V2H296V142Z" name="BAYS F6–F8" x={197} y={142} />
          <ViewMarks
            marks={MARKS}
            bounds={{ left: 2, top: 2, right: 590, bottom: 130 }}
            obstacles={[{ left: 310, top: 20, right: 480, bottom: 56 }]}
            onOpen={() => undefined}
          />
          <Balloon number="70" x={560} y={40} to={{ x: 494, y: 72 }} />
        </svg>
      </ViewFrame>
    </Part>
  );
}

function Grid() {
  return (
    <>
      <path class="ln-draw thin" d="M1 72H591M98 2V142M197 2V142M296 2V142M395 2V142M494 2V142" />
      <path class="ln-draw thick" d="M1 2H591M1 142H591" />
    </>
  );
}

export function Pictures() {
  return (
    <Part title="Wax pencil, dimension line, section">
      <div class="parts-pair">
        <DetailPicture
          src={metal}
          alt="Pits with white bloom beside a row of rivets, a rule laid below"
          width_px={640}
          height_px={400}
          letter="A"
          caption="close · 2025-03-08 · 1 of 3"
          eager
        >
          <WaxRing
            seed={2}
            points={[
              { x: 120, y: 200 },
              { x: 530, y: 180 },
              { x: 320, y: 72 },
            ]}
          />
          <WaxArrow seed={7} tail={{ x: 600, y: 96 }} tip={{ x: 530, y: 140 }} />
          <DimensionLine
            on="picture"
            from={{ x: 80, y: 320 }}
            to={{ x: 464, y: 320 }}
            off_px={16}
            value="scale 4.00 in"
          />
        </DetailPicture>
        <div class="parts-sections">
          <svg role="img" aria-label="5.5 ± 0.1 in" width="230" height="40">
            <DimensionLine
              from={{ x: 8, y: 40 }}
              to={{ x: 222, y: 40 }}
              off_px={20}
              value="5.5 ± 0.1 in"
            />
          </svg>
          <PlateSection
            thickness={0.064}
            thickness_text="0.064"
            depth={0.011}
            depth_text="0.011"
            limits={[
              { share: 0.1, label: '10 %' },
              { share: 0.15625, label: '0.010' },
              { share: 0.5, label: '50 %' },
            ]}
            width={120}
            height={98}
          />
        </div>
      </div>
      <div class="parts-row start">
        <Shown words="depth not measured">
          <PlateSection
            thickness={0.064}
            thickness_text="0.064"
            depth={null}
            limits={LIMITS}
            bands={[
              { share: 0.3, grade: 3 },
              { share: 0.75, grade: 4 },
            ]}
            face="inner face"
          />
        </Shown>
        <Shown words="through">
          <PlateSection
            thickness={0.048}
            thickness_text="0.048"
            depth={0.048}
            depth_text="0.048"
            limits={LIMITS}
            width={110}
            height={80}
          />
        </Shown>
        <div class="parts-changed">
          <ChangeBar /> changed since the last issue
        </div>
      </div>
    </Part>
  );
}
