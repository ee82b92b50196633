import {
  GRADE_NAMES,
  type GradeFigure,
  GradeMark,
  gradeWords,
  KeyOfMarks,
  MARK_STATES,
  RIVET_WORDS,
  RivetHead,
  type RivetState,
  STATE_DRAWN,
  Stamp,
  StampPair,
  stateWords,
  UnsignedStamp,
  WaxRing,
} from '../../furniture/index.ts';
import { Part, Shown } from './part.tsx';

const COLOURS = ['ground', 'panel', 'ink', 'ink-2', 'line-2', 'draw', 'main', 'error', 'stamp'];
const GRADES: GradeFigure[] = [0, 1, 2, 3, 4];
const STATES: RivetState[] = ['S', 'L', 'W', 'C', 'T', 'M', 'D', 'R', 'V', 'N'];

export function Colours() {
  return (
    <ul class="parts-colours">
      {COLOURS.map((colour) => (
        <li key={colour}>
          <span class={`swatch swatch-${colour}`} />
          {colour}
        </li>
      ))}
    </ul>
  );
}

export function Grades() {
  return (
    <Part title="Grade marks: the sharp corners count the grade">
      <div class="parts-row five">
        {GRADES.map((grade) => (
          <Shown key={grade} words={GRADE_NAMES[grade]}>
            <GradeMark grade={grade} size={72} />
          </Shown>
        ))}
        {([1, 2, 3] as const).map((grade) => (
          <Shown key={grade} words={gradeWords(grade, true)}>
            <GradeMark grade={grade} at_least size={72} />
          </Shown>
        ))}
        <Shown words={gradeWords(null)}>
          <GradeMark grade={null} size={72} />
        </Shown>
      </div>
      <div class="parts-row start">
        {[24, 34, 48, 112].map((size) => (
          <GradeMark key={size} grade={size === 112 ? 2 : 3} at_least={size === 112} size={size} />
        ))}
        <span>24 shape alone, 34 least with a numeral, 48 head, 112 while grading</span>
      </div>
      <KeyOfMarks />
    </Part>
  );
}

export function States() {
  return (
    <Part title="State: drawn with lines, never with colour">
      <div class="parts-row three tall">
        {MARK_STATES.map((state) => (
          <div key={state} class="parts-state">
            <GradeMark
              grade={2}
              state={state}
              size={56}
              until={state === 'Deferred' ? 'to Stage 4' : undefined}
            />
            <b>{stateWords(state)}</b>
            <span class="small second-ink">{STATE_DRAWN[state]}</span>
          </div>
        ))}
      </div>
      <div class="parts-row start tall">
        {GRADES.map((grade) => (
          <GradeMark
            key={grade}
            grade={grade}
            state={grade % 2 ? 'Assessed' : 'In work'}
            size={34}
          />
        ))}
        <GradeMark grade={4} state="Same as" size={34} />
        <GradeMark grade={3} state="Raised in error" size={34} />
        <GradeMark grade={1} state="Cleared" size={34} />
      </div>
    </Part>
  );
}

export function Rivets() {
  return (
    <Part title="Rivet heads">
      <div class="parts-row five">
        {STATES.map((state) => (
          <Shown key={state} words={`${state} ${RIVET_WORDS[state]}`}>
            <RivetHead state={state} />
          </Shown>
        ))}
      </div>
      <svg class="parts-line" role="img" aria-label="A rivet line at hole 24" viewBox="0 0 592 96">
        <line class="ln-second thin chain" x1="0" x2="592" y1="48" y2="48" />
        {[151, 199, 247, 493, 541].map((x, at) => (
          <RivetHead key={x} state={at < 3 ? 'S' : '–'} size={30} x={x} y={33} />
        ))}
        <circle class="fill-ground" cx="336" cy="48" r="36" />
        <WaxRing
          on="sheet"
          seed={24}
          points={[
            { x: 303, y: 48 },
            { x: 369, y: 48 },
            { x: 336, y: 81 },
          ]}
        />
        <text class="bold mid" x="336" y="57" font-size="26">
          24
        </text>
      </svg>
    </Part>
  );
}

export function Stamps() {
  const lead = { number: '01', role_name: 'lead', date: '2025-04-16' };
  const clerk = { number: '41', role_name: 'records clerk', date: '2025-05-31' };
  const inspector = { number: '12', role_name: 'inspector', date: '2025-10-29' };
  return (
    <Part title="Stamps: the act on top; the only violet on a sheet">
      <div class="parts-row start">
        <Stamp act="INSPECTED" number="11" role_name="inspector" date="2025-07-12" />
        <Stamp act="DISPOSITION" {...lead} />
        <StampPair first={{ act: 'INSPECTED', ...inspector }} />
      </div>
      <div class="parts-row start">
        <StampPair
          first={{ act: 'INSPECTED', ...inspector }}
          second={{ act: 'INDEPENDENT', ...inspector, number: '13' }}
        />
        <Stamp act="RE-INSPECTED" {...inspector} />
      </div>
      <div class="parts-row start">
        <Stamp act="PREPARED" {...clerk} />
        <Stamp act="CHECKED" {...lead} date="2025-05-31" />
        <Stamp act="ISSUED" {...clerk} />
      </div>
      <div class="parts-row start">
        <div>
          <b>NOT CLEAR – 9 LINES</b>
          <p class="small">words outside the box</p>
        </div>
        <UnsignedStamp caption="stage stamp, lead" width={152} height={66} />
        <Stamp act="CLEAR TO CLOSE" {...lead} date="2025-11-15" />
      </div>
    </Part>
  );
}
