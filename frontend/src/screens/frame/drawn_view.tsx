import { useRef } from 'preact/hooks';
import { useWidth } from '../../furniture';
import type { Definition } from '../../services/shop';
import './drawn_view.css';

export type View = Definition['views'][number];

/** Line work of one view of the definition, with a ringed point where a record lies. */
export function DrawnView(props: {
  view: View;
  point: { x: number; y: number } | null;
  /** The other end of what reaches from the point to there. */
  end?: { x: number; y: number } | null;
  /** Draws a leader from the point to the right edge, where its picture follows. */
  led?: boolean | undefined;
  spoken: string;
  /** Leaves out what is empty above and below the lines. */
  cropped?: boolean | undefined;
}) {
  const { view, point, end } = props;
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 500);
  const [wide, high] = view.box;
  const [top, foot] = props.cropped ? inkedOf(view) : [0, high];
  // Lines keep their weight and letters their size at any width of the sheet.
  const letters = (14 * wide) / width_px;
  const names = namedMembers(view);
  return (
    <div class="drawn-view" ref={box}>
      <svg viewBox={`0 ${top} ${wide} ${foot - top}`} role="img" aria-label={props.spoken}>
        {view.lines.map((line, at) => (
          <path
            key={at}
            class={`ln-draw ${line.weight} ${line.kind === 'hidden' ? 'hidden-line' : line.kind === 'chain' ? 'chain' : ''}`}
            d={`M${line.points.map(([x, y]) => `${x} ${y}`).join('L')}${line.closed ? 'Z' : ''}`}
          />
        ))}
        {names.map((label) => (
          <text key={label.text} class="mid fill-draw" x={label.x} y={label.y} font-size={letters}>
            {label.text}
          </text>
        ))}
        {point && end && (
          <path class="ln wide-line" d={`M${point.x} ${point.y}L${end.x} ${end.y}`} />
        )}
        {point && (
          <Ringed
            at={point}
            scale={wide / width_px}
            led={props.led === true}
            {...{ wide, names, letters }}
          />
        )}
      </svg>
    </div>
  );
}

const MARGIN = 0.02;

/** Between which heights lines and labels of a view lie. */
function inkedOf(view: View): [top: number, foot: number] {
  const [wide, high] = view.box;
  const lines = view.lines.flatMap(({ points }) => points.map(([, y]) => y));
  const heights = [...lines, ...view.labels.map(({ y }) => y)];
  const [top, foot] = [Math.min(...heights), Math.max(...heights)];
  // The leader of a low point runs under the labels.
  return [Math.max(0, top - MARGIN * wide), Math.min(high, foot + 3 * MARGIN * wide)];
}

/** The ringed point of a detail; ring and leader keep their size at any width of the sheet. */
function Ringed(props: {
  at: { x: number; y: number };
  scale: number;
  led: boolean;
  wide: number;
  names: readonly { y: number }[];
  letters: number;
}) {
  const { at, scale } = props;
  const down = clearOf(props.names, props.letters, at.y + 34 * scale);
  return (
    <g>
      {props.led && (
        <path class="ln medium" d={`M${at.x} ${at.y}L${at.x + 10 * scale} ${down}H${props.wide}`} />
      )}
      <circle class="ln thick ringed" cx={at.x} cy={at.y} r={6.5 * scale} />
    </g>
  );
}

/** The height of a leader, or below the names that it would strike through. */
export function clearOf(names: readonly { y: number }[], letters: number, height: number): number {
  return names
    .map(({ y }) => y)
    .sort((one, other) => one - other)
    .reduce(
      (at, y) => (y - 1.2 * letters < at && at < y + 0.5 * letters ? y + 0.6 * letters : at),
      height,
    );
}

/** Labels that have room: from the nose on, none nearer than 84 units to the last. */
function namedMembers(view: View) {
  let last = Number.NEGATIVE_INFINITY;
  return [...view.labels]
    .sort((one, other) => one.x - other.x)
    .filter((label) => {
      if (!/^[A-Z]+\d+$/.test(label.text) || label.x - last < 84) return false;
      last = label.x;
      return true;
    });
}
