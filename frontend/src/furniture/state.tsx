import { SHAPE_FOOT } from './shapes.ts';
import type { GradeFigure, MarkState } from './words.ts';

export interface StateInkProps {
  state: MarkState;
  grade: GradeFigure | null;
  size: number;
  until?: string | undefined;
}

/** What a state adds to a mark. Rule, band, box, stamp: each step of the work adds ink. */
export function StateInk({ state, grade, size, until }: StateInkProps) {
  const foot = Math.round((SHAPE_FOOT[grade ?? 0] * size) / 48);
  switch (state) {
    case 'Draft':
      return <CentreLines size={size} />;
    case 'Assessed':
      return <line class="ln medium" x1={0} x2={size} y1={foot + 7} y2={foot + 7} />;
    case 'In work':
      return <HalfBand size={size} top={foot + 4} />;
    case 'Offered':
      return <StampBox size={size} filled={false} />;
    case 'Cleared':
      return <StampBox size={size} filled={true} />;
    case 'Deferred':
      return <GroundLine size={size} until={until} />;
    case 'Raised in error':
      return <Struck grade={grade} size={size} />;
    default:
      return null;
  }
}

function CentreLines({ size }: { size: number }) {
  const half = Math.round(size / 2);
  return <path class="ln-second thin chain" d={`M-3 ${half}H${size + 3}M${half} -3V${size + 3}`} />;
}

function HalfBand({ size, top }: { size: number; top: number }) {
  return (
    <>
      <rect class="ln thin fill-ground" x={0.5} y={top + 0.5} width={size - 1} height={7} />
      <rect class="fill-ink" x={0} y={top} width={size / 2} height={8} />
    </>
  );
}

function StampBox({ size, filled }: { size: number; filled: boolean }) {
  const box = {
    x: 0.8 * size,
    y: 0.66 * size,
    width: 0.42 * size,
    height: 0.36 * size,
    rx: 0.06 * size,
  };
  return (
    <>
      <rect class="box-ground" {...box} />
      <rect class={filled ? 'box-cleared' : 'box-offered'} {...box} />
    </>
  );
}

function GroundLine({ size, until }: { size: number; until?: string | undefined }) {
  const line = Math.round(size * 0.62);
  return (
    <>
      <line class="ln medium" x1={-4} x2={size + 4} y1={line} y2={line} />
      {until !== undefined && (
        <text class="px14" x={-4} y={line + 17}>
          {until}
        </text>
      )}
    </>
  );
}

function Struck({ grade, size }: { grade: GradeFigure | null; size: number }) {
  const middle = ((grade === 3 ? 29 : 24) * size) / 48;
  const from = size * 0.14;
  return (
    <>
      <line class="strike-ground" x1={from + 4} x2={size - from - 4} y1={middle} y2={middle} />
      <path
        class="ln thick"
        d={`M${from} ${middle - 3}H${size - from}M${from} ${middle + 3}H${size - from}`}
      />
    </>
  );
}
