import { useId } from 'preact/hooks';
import { GRADE_4_INNER, GRADE_SHAPE, numeralLine, OPEN_SHAPE } from './shapes.ts';
import { StateInk } from './state.tsx';
import { type GradeFigure, gradeWords, type MarkState, stateWords } from './words.ts';
import './grade.css';

export interface GradeMarkProps {
  /** Nothing: not graded. */
  grade: GradeFigure | null;
  /** True while the depth is not known: the bottom is open. */
  at_least?: boolean | undefined;
  state?: MarkState | undefined;
  /** 24 shape alone, 34 least with a numeral, 48–72 head of a record, 112 while grading. */
  size?: number | undefined;
  /** Stage or date under a deferred mark. */
  until?: string | undefined;
  /** Say the mark to those who listen. Off where the words stand beside it, as they always should. */
  spoken?: boolean | undefined;
  /** Leave the numeral out, as at 24 px. */
  bare?: boolean | undefined;
  /** Place within a drawing: top left corner, in its units. */
  x?: number | undefined;
  y?: number | undefined;
}

/** The mark of a grade, with its state drawn round it. */
export function GradeMark(props: GradeMarkProps) {
  const { grade, at_least = false, state, size = 34 } = props;
  const clip = useId();
  const spoken = state
    ? `${gradeWords(grade, at_least)}, ${stateWords(state)}`
    : gradeWords(grade, at_least);
  const sunk = state === 'Deferred';
  return (
    <svg
      class="grade-mark"
      role="img"
      aria-label={spoken}
      aria-hidden={props.spoken !== true}
      x={props.x}
      y={props.y}
      width={size}
      height={size}
      viewBox={`0 0 ${size} ${size}`}
    >
      {sunk && (
        <clipPath id={clip}>
          <rect x={-4} y={-4} width={size + 8} height={4 + size * 0.62} />
        </clipPath>
      )}
      {state === 'Same as' && <Behind grade={grade} at_least={at_least} size={size} />}
      <g clip-path={sunk ? `url(#${clip})` : undefined}>
        <g transform={`scale(${size / 48})`}>
          {state === 'Draft' ? (
            <path class="draft-outline" d={GRADE_SHAPE[0]} />
          ) : (
            <Shape grade={grade} at_least={at_least} bare={(props.bare ?? size < 34) || sunk} />
          )}
        </g>
      </g>
      {sunk && !(props.bare ?? size < 34) && (
        <g transform={`scale(${size / 48})`}>
          <SunkNumeral grade={grade} at_least={at_least} />
        </g>
      )}
      {state && <StateInk state={state} grade={grade} size={size} until={props.until} />}
    </svg>
  );
}

function Shape(props: { grade: GradeFigure | null; at_least: boolean; bare: boolean }) {
  const { grade, at_least, bare } = props;
  if (grade === null || (at_least && grade === 0)) return <OpenShape grade={null} bare={bare} />;
  if (at_least && grade < 4) return <OpenShape grade={grade} bare={bare} />;
  return (
    <>
      <path
        class={grade === 4 ? 'mark-outline fill-ground' : `mark-outline grade-${grade}`}
        d={GRADE_SHAPE[grade]}
      />
      {grade === 4 && <path class="mark-outline grade-4" d={GRADE_4_INNER} />}
      {!bare && <Numeral text={String(grade)} grade={grade} size={20} tone={`on-${grade}`} />}
    </>
  );
}

function OpenShape({ grade, bare }: { grade: GradeFigure | null; bare: boolean }) {
  const known = grade === null || grade === 4 ? 0 : grade;
  const size = grade === null ? 20 : grade === 3 ? 16 : 18;
  return (
    <>
      <path class="mark-outline open" d={OPEN_SHAPE[known]} />
      {!bare && (
        <Numeral
          text={grade === null ? '?' : `${grade}?`}
          grade={grade}
          size={size}
          tone="on-open"
        />
      )}
    </>
  );
}

/** The numeral of a sunk mark stands whole above the ground line. */
function SunkNumeral({ grade, at_least }: { grade: GradeFigure | null; at_least: boolean }) {
  const open = grade === null || (at_least && grade < 4);
  const text = grade === null ? '?' : `${grade}${open ? '?' : ''}`;
  const size = grade === 3 ? 14 : 18;
  return (
    <Numeral text={text} grade={grade} size={size} tone={open ? 'on-open' : `on-${grade}`} y={27} />
  );
}

function Numeral(props: {
  text: string;
  grade: GradeFigure | null;
  size: number;
  tone: string;
  y?: number;
}) {
  return (
    <text
      class={`numeral mid ${props.tone}`}
      x="24"
      y={props.y ?? numeralLine(props.grade)}
      font-size={props.size}
    >
      {props.text}
    </text>
  );
}

/** Second outline behind, 22 % right and 16 % up: the same defect seen again. */
function Behind(props: { grade: GradeFigure | null; at_least: boolean; size: number }) {
  const { grade, at_least, size } = props;
  const open = grade === null || (at_least && grade < 4);
  const outline = open ? OPEN_SHAPE[grade === null || grade === 4 ? 0 : grade] : GRADE_SHAPE[grade];
  return (
    <g transform={`translate(${0.22 * size} ${-0.16 * size}) scale(${size / 48})`}>
      <path class="mark-outline open" d={outline} />
    </g>
  );
}
