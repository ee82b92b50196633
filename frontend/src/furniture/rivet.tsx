import { RIVET_WORDS, type RivetState } from './words.ts';
import './rivet.css';

export interface RivetHeadProps {
  state: RivetState;
  /** Side of the box: 20 in a strip, 44 in the row, 60 on the main key. */
  size?: number | undefined;
  /** Letter beside the head. It is left out only where it stands under the head. */
  letter?: boolean | undefined;
  spoken?: boolean | undefined;
  x?: number | undefined;
  y?: number | undefined;
}

/** One rivet by its state: the shape inside the head says it, the letter says it again. */
export function RivetHead(props: RivetHeadProps) {
  const { state, size = 44 } = props;
  const head = (
    <svg
      class="rivet-head"
      role="img"
      aria-label={RIVET_WORDS[state]}
      aria-hidden={props.spoken !== true}
      x={props.x}
      y={props.y}
      width={size}
      height={size}
      viewBox="0 0 32 32"
    >
      <Head state={state} />
    </svg>
  );
  if (!props.letter) return head;
  return (
    <span class="rivet-lettered">
      {head}
      <span class="rivet-letter">{state}</span>
    </span>
  );
}

const DOTS = [
  [16, 9],
  [10.5, 12.5],
  [21.5, 12.5],
  [16, 16],
  [10, 19],
  [22, 19.5],
  [16, 23],
] as const;

function Ring({ r = 12, at = 16 }: { r?: number; at?: number }) {
  return <circle class="rivet-line rivet-ground" cx={at} cy={at} r={r} />;
}

function Head({ state }: { state: RivetState }) {
  switch (state) {
    case 'S':
      return <Ring />;
    case 'L':
      return <path class="rivet-line" d="M20.1 4.7A12 12 0 1 0 27.3 11.9" />;
    case 'W':
      return (
        <>
          <Ring r={11} at={14} />
          <path class="rivet-line" d="M22.5 21L30 30M24.8 17.5L31 23M18.8 24L24.5 31" />
        </>
      );
    case 'C':
      return (
        <>
          <Ring />
          {DOTS.map(([cx, cy]) => (
            <circle key={`${cx} ${cy}`} class="fill-ink" cx={cx} cy={cy} r="1.7" />
          ))}
        </>
      );
    case 'T':
      return (
        <>
          <Ring r={11} />
          <path class="rivet-line rivet-bar" d="M1.5 21.5L30.5 10.5" />
        </>
      );
    default:
      return <RareHead state={state} />;
  }
}

function RareHead({ state }: { state: RivetState }) {
  switch (state) {
    case 'M':
      return (
        <>
          <Ring />
          <path class="fill-ink" d="M4 16A12 12 0 0 0 28 16Z" />
        </>
      );
    case 'D':
      return <path class="rivet-line" d="M6 6H26V26H6Z" />;
    case 'R':
      return <circle class="fill-ink" cx="16" cy="16" r="12.5" />;
    case 'V':
      return (
        <>
          <Ring r={13.5} />
          <circle class="fill-ink" cx="16" cy="16" r="9" />
        </>
      );
    case 'N':
      return (
        <>
          <circle class="rivet-line rivet-dotted" cx="16" cy="16" r="12" />
          <text class="bold mid" x="16" y="22" font-size="17">
            ?
          </text>
        </>
      );
    default:
      return <path class="rivet-set-out" d="M16 8V24M8 16H24" />;
  }
}
