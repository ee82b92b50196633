import { useRef, useState } from 'preact/hooks';
import { GradeMark } from './grade.tsx';
import { type Box, type PlacedLabel, placeLabels } from './labels.ts';
import { type GradeFigure, gradeWords, type MarkState, stateWords } from './words.ts';

export interface LabelledMark {
  id: string;
  number: string;
  grade: GradeFigure | null;
  at_least?: boolean | undefined;
  state?: MarkState | undefined;
  /** Centre, exactly on its station. */
  x: number;
  y: number;
  size?: number | undefined;
}

export interface ViewMarksProps {
  marks: LabelledMark[];
  /** Field the labels must stay in. */
  bounds: Box;
  /** Words and lines of the view that labels should not cover. */
  obstacles?: readonly Box[] | undefined;
  onOpen?: ((id: string) => void) | undefined;
}

/** Marks of a view with their labels. One tab stop; arrow keys go from mark to mark. */
export function ViewMarks({ marks, bounds, obstacles, onOpen }: ViewMarksProps) {
  const [at, setAt] = useState(0);
  const group = useRef<SVGGElement>(null);
  const placed = placeLabels(marks.map(toLabel), bounds, obstacles);
  const go = (to: number) => {
    const index = (to + marks.length) % marks.length;
    setAt(index);
    const all = group.current?.querySelectorAll<SVGGElement>('.view-mark');
    all?.[index]?.focus();
  };
  return (
    <g ref={group}>
      {placed.map((label, index) => {
        const mark = marks[index] as LabelledMark;
        return (
          <OneMark
            key={mark.id}
            mark={mark}
            label={label}
            tab={index === Math.min(at, marks.length - 1) ? 0 : -1}
            onOpen={onOpen && (() => onOpen(mark.id))}
            onStep={(step) => go(index + step)}
          />
        );
      })}
    </g>
  );
}

function toLabel(mark: LabelledMark) {
  return {
    id: mark.id,
    x: mark.x,
    y: mark.y,
    size: mark.size ?? 34,
    number: mark.number,
    words: gradeWords(mark.grade, mark.at_least),
  };
}

interface OneMarkProps {
  mark: LabelledMark;
  label: PlacedLabel;
  tab: number;
  onOpen?: (() => void) | undefined;
  onStep: (step: number) => void;
}

function OneMark({ mark, label, tab, onOpen, onStep }: OneMarkProps) {
  const size = mark.size ?? 34;
  const drawn = (
    <GradeMark
      grade={mark.grade}
      at_least={mark.at_least}
      state={mark.state}
      size={size}
      x={mark.x - size / 2}
      y={mark.y - size / 2}
    />
  );
  const state = mark.state ? `, ${stateWords(mark.state)}` : '';
  const name = `${mark.number} ${label.mark.words}${state}`;
  if (!onOpen)
    return (
      <g>
        <title>{name}</title>
        {drawn}
        <MarkLabel label={label} />
      </g>
    );
  return (
    <>
      {drawn}
      {/* biome-ignore lint/a11y/useSemanticElements: SVG has no button of its own */}
      <g
        class="view-mark"
        role="button"
        tabindex={tab}
        aria-label={name}
        onClick={onOpen}
        onKeyDown={(event) => onKey(event, onOpen, onStep)}
      >
        <rect class="mark-target" x={mark.x - 24} y={mark.y - 24} width="48" height="48" />
        <MarkLabel label={label} />
      </g>
    </>
  );
}

function onKey(event: KeyboardEvent, onOpen: () => void, onStep: (step: number) => void) {
  if (event.key === 'Enter' || event.key === ' ') onOpen();
  else if (event.key === 'ArrowRight' || event.key === 'ArrowDown') onStep(1);
  else if (event.key === 'ArrowLeft' || event.key === 'ArrowUp') onStep(-1);
  else return;
  event.preventDefault();
}

function MarkLabel({ label }: { label: PlacedLabel }) {
  const { box, side, leader, mark } = label;
  const x = side === 'right' ? box.left + 3 : box.right - 3;
  const anchor = side === 'right' ? '' : ' end';
  return (
    <>
      {leader && (
        <path
          class="ln thin"
          d={`M${leader.from.x} ${leader.from.y}L${leader.to.x} ${leader.to.y}`}
        />
      )}
      <rect
        class="fill-ground"
        x={box.left}
        y={box.top}
        width={box.right - box.left}
        height={box.bottom - box.top}
      />
      <text>
        <tspan class={`bold px18${anchor}`} x={x} y={box.top + 16}>
          {mark.number}
        </tspan>{' '}
        <tspan class={`px16${anchor}`} x={x} y={box.top + 34}>
          {mark.words}
        </tspan>
      </text>
    </>
  );
}
