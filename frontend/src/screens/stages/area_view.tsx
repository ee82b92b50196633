import { useRef } from 'preact/hooks';
import { viewPoint } from '../../domain/place';
import { AreaMeant, Balloon, spread, useWidth, ViewFrame } from '../../furniture';
import type { Definition } from '../../services/shop';
import type { DefectLine, StageSheet } from '../../services/stages';
import { outlineOf, viewFor } from './area';

type View = Definition['views'][number];

const FOOT_PX = 48;
const APART_PX = 34;

/** The area of a stage on its view, with a balloon for each line that lies on it. */
export function AreaView({ sheet, definition }: { sheet: StageSheet; definition: Definition }) {
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 600);
  const defects = sheet.lines.filter((line): line is DefectLine => line.kind === 'defect');
  const view = viewFor(definition, [
    ...defects.map((line) => line.row.structure),
    ...sheet.stage.area.map((part) => part.structure).slice(0, 1),
  ]);
  if (!view) return <p class="no-view">No view of this area.</p>;
  const scale = width_px / view.box[0];
  const [top, foot] = drawnHeight(view);
  const high_px = (foot - top) * scale;
  const placed = placedOn(view, definition, defects, scale);
  const elsewhere = defects.length - placed.length;
  return (
    <ViewFrame
      title={view.title}
      fwd={view.forward ?? 'left'}
      second={`balloons: lines below${elsewhere > 0 ? `, ${elsewhere} elsewhere` : ''}`}
    >
      <div ref={box} class="area-view">
        <svg
          role="img"
          aria-label={spokenOf(view, sheet, placed)}
          width="100%"
          height={high_px + (placed.length > 0 ? FOOT_PX : 0)}
        >
          <g transform={`translate(0 ${-top * scale})`}>
            <LineWork view={view} scale={scale} />
            {sheet.stage.area.map((part, at) => (
              <Area
                key={at}
                points={outlineOf(view, definition, part)}
                {...{ scale, part }}
                lift={namesAbove(view) === null ? 14 : 34}
              />
            ))}
          </g>
          {placed.map(({ line, x, y, foot_x }) => (
            <Balloon
              key={line.number}
              number={String(line.number)}
              x={foot_x}
              y={high_px + FOOT_PX - 18}
              to={{ x, y: y - top * scale }}
            />
          ))}
        </svg>
      </div>
    </ViewFrame>
  );
}

const MARGIN = 16;

/** Top and foot of what is drawn: a view has more paper round it than a sheet has room. */
function drawnHeight(view: View): [number, number] {
  const above = namesAbove(view);
  const ys = [
    ...view.lines.flatMap((line) => line.points.map(([, y]) => y)),
    ...(above === null ? view.labels.map((label) => label.y) : [above]),
  ];
  return [Math.min(...ys) - MARGIN, Math.max(...ys) + MARGIN];
}

/** On a plan members are named over its outline, clear of the leaders that run down. */
function namesAbove(view: View): number | null {
  if (!/\bplan$/.test(view.name)) return null;
  const outline = view.lines.find((line) => line.closed) ?? view.lines[0];
  return Math.min(...(outline?.points.map(([, y]) => y) ?? [0])) - MARGIN / 2;
}

function LineWork({ view, scale }: { view: View; scale: number }) {
  return (
    <>
      <g transform={`scale(${scale})`}>
        {view.lines.map((line, at) => (
          <path
            key={at}
            class={`ln-draw ${line.weight} ${line.kind === 'hidden' ? 'hidden-line' : line.kind === 'chain' ? 'chain' : ''}`}
            d={`M${line.points.map(([x, y]) => `${x} ${y}`).join('L')}${line.closed ? 'Z' : ''}`}
          />
        ))}
      </g>
      {named(view, scale).map(({ text, x, y }) => (
        <text key={text} class="px14 mid fill-draw" x={x} y={y}>
          {text}
        </text>
      ))}
    </>
  );
}

/** Names of members that have room: from one side to the other, none nearer than 44 px. */
function named(view: View, scale: number) {
  const above = namesAbove(view);
  let last = Number.NEGATIVE_INFINITY;
  return [...view.labels]
    .sort((one, other) => one.x - other.x)
    .flatMap((label) => {
      const x = label.x * scale;
      if (!/^[A-Z]+\d+$/.test(label.text) || x - last < 44) return [];
      last = x;
      return [{ text: label.text, x, y: above === null ? label.y * scale : above * scale }];
    });
}

function Area(props: {
  points: [number, number][];
  scale: number;
  part: { members?: [string, string] };
  /** How far over the outline its name stands, px. */
  lift: number;
}) {
  const { points, scale, part } = props;
  if (points.length < 3) return null;
  const drawn = points.map(([x, y]) => [x * scale, y * scale] as const);
  const xs = drawn.map(([x]) => x);
  const top = Math.min(...drawn.map(([, y]) => y));
  return (
    <AreaMeant
      d={`M${drawn.map((point) => point.join(' ')).join('L')}Z`}
      name={`BAYS ${part.members?.join('–') ?? ''}`}
      x={(Math.min(...xs) + Math.max(...xs)) / 2}
      y={Math.max(top - props.lift, 12)}
    />
  );
}

interface Placed {
  line: DefectLine;
  x: number;
  y: number;
  /** Where its balloon stands in the row below the drawing. */
  foot_x: number;
}

function placedOn(
  view: View,
  definition: Definition,
  lines: readonly DefectLine[],
  scale: number,
): Placed[] {
  const found = lines
    .flatMap((line) => {
      const { place } = line.row;
      if (!place || place.structure !== view.structure) return [];
      try {
        const [x, y] = viewPoint(view, definition, place);
        return [{ line, x: x * scale, y: y * scale }];
      } catch {
        return [];
      }
    })
    .sort((a, b) => a.x - b.x || a.line.number - b.line.number);
  const least = 18;
  const most = view.box[0] * scale - 18;
  const gap = Math.min(APART_PX, (most - least) / Math.max(found.length - 1, 1));
  const feet = spread(
    found.map((one) => one.x),
    gap,
    least,
    most,
  );
  return found.map((one, at) => ({ ...one, foot_x: feet[at] ?? one.x }));
}

function spokenOf(view: View, sheet: StageSheet, placed: readonly Placed[]): string {
  const where = placed.map(({ line }) => `line ${line.number} at ${line.row.place_words}`);
  return `${view.title}: ${sheet.stage.scope}. ${where.join('; ')}`;
}
