import { useContext } from 'preact/hooks';
import { Flag, flagWidth } from './flag.tsx';
import { PictureScale } from './frame.ts';
import type { Point } from './strokes.ts';
import './dimension.css';

export interface DimensionLineProps {
  /** Ends of what is measured. */
  from: Point;
  to: Point;
  /** The value, always with ±: "5.5 ± 0.1 in". Nothing: no flag. */
  value?: string | undefined;
  /** How far the line stands off, in px; negative stands off on the other side. */
  off_px?: number | undefined;
  /** The measured path itself, for a crack: the line is that path moved clear, the flag says along. */
  along?: Point[] | undefined;
  on?: 'picture' | 'sheet' | undefined;
  /** Height of the value's letters. */
  letters_px?: number | undefined;
}

/** Witness lines, a line with filled heads, and the value on a flag. */
export function DimensionLine(props: DimensionLineProps) {
  const scale = useContext(PictureScale);
  const { from, to, on = 'sheet' } = props;
  const shift = offset(from, to, (props.off_px ?? 32) * scale);
  const run = (props.along ?? [from, to]).map((point) => moved(point, shift, 1));
  const start = run[0] ?? from;
  const end = run.at(-1) ?? to;
  const line = `M${run.map((point) => `${point.x} ${point.y}`).join('L')}`;
  const witness = [from, to]
    .map((point) => `M${at(moved(point, shift, 0.06))}L${at(moved(point, shift, 1.14))}`)
    .join('');
  return (
    <g class={`dimension dimension-${on}`}>
      {on === 'picture' && <path class="dimension-edge" d={line + witness} />}
      <path class="dimension-witness" d={witness} />
      <path class="dimension-line" d={line} />
      <path class="dimension-head" d={headAt(start, run[1] ?? end, scale)} />
      <path class="dimension-head" d={headAt(end, run.at(-2) ?? start, scale)} />
      {props.value !== undefined && (
        <Flag
          at={flagPlace(run, shift, scale, props)}
          words={flagWords(props)}
          on={on}
          letters_px={props.letters_px}
        />
      )}
    </g>
  );
}

function flagWords({ value = '', along }: DimensionLineProps): string {
  return along && !/along$/.test(value) ? `${value} along` : value;
}

/** On the line; beyond it where the line is too short to show on both sides of its flag. */
function flagPlace(run: Point[], shift: Point, scale: number, props: DimensionLineProps): Point {
  const middle = midOf(run);
  const letters_px = props.letters_px ?? 18;
  const length = Math.hypot(props.to.x - props.from.x, props.to.y - props.from.y) / scale;
  if (!props.along && length >= flagWidth(props.value ?? '', letters_px) + 40) return middle;
  const off = Math.hypot(shift.x, shift.y) || 1;
  const beyond = (letters_px * 0.5 + 14) * scale;
  return { x: middle.x + (shift.x / off) * beyond, y: middle.y + (shift.y / off) * beyond };
}

function offset(from: Point, to: Point, off: number): Point {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  return { x: ((to.y - from.y) / length) * off, y: (-(to.x - from.x) / length) * off };
}

function moved(point: Point, by: Point, share: number): Point {
  return { x: point.x + by.x * share, y: point.y + by.y * share };
}

function midOf(run: Point[]): Point {
  const first = run[0] ?? { x: 0, y: 0 };
  const last = run.at(-1) ?? first;
  return { x: (first.x + last.x) / 2, y: (first.y + last.y) / 2 };
}

/** Filled head 12 × 6 px with its point on `tip`. */
function headAt(tip: Point, from: Point, scale: number): string {
  const length = Math.hypot(from.x - tip.x, from.y - tip.y) || 1;
  const unit = { x: (from.x - tip.x) / length, y: (from.y - tip.y) / length };
  const foot = { x: tip.x + unit.x * 12 * scale, y: tip.y + unit.y * 12 * scale };
  const side = { x: -unit.y * 3 * scale, y: unit.x * 3 * scale };
  return `M${at(tip)}L${at(moved(foot, side, 1))}L${at(moved(foot, side, -1))}Z`;
}

function at(point: Point): string {
  return `${point.x.toFixed(1)} ${point.y.toFixed(1)}`;
}
