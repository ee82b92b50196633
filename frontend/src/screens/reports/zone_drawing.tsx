import { useRef } from 'preact/hooks';
import { spread, useWidth, ViewFrame } from '../../furniture';
import type { Definition } from '../../services/shop';
import { acrossOf, drawnHeight, handsOn, middleOf, type Patch, patchesOf } from './patches';
import type { ZoneRow } from './zones';
import './zone_drawing.css';

type View = Definition['views'][number];

const LETTERS_PX = 16;

/** A view on which a touch chooses a zone; the list beside it does the same by keyboard. */
export function ZoneDrawing(props: {
  view: View;
  definition: Definition;
  zones: readonly ZoneRow[];
  chosen: readonly string[];
  onChoose: (zone: string) => void;
}) {
  const { view, definition, zones, chosen } = props;
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 560);
  const [wide] = view.box;
  const letters = (LETTERS_PX * wide) / width_px;
  const patches = patchesOf(definition, view);
  const aloft = placedAloft(patches, letters, wide);
  const [highest, foot] = drawnHeight(view);
  const top = aloft.size > 0 ? highest - letters * 2.6 : highest;
  const hands = handsOn(definition, view);
  const margin = hands.length > 0 ? letters * 1.6 : 0;
  const held = new Map(zones.map((one) => [one.zone, one]));
  return (
    <ViewFrame title={view.title} fwd={view.forward ?? 'left'}>
      <div class="zone-drawing" ref={box}>
        <svg viewBox={`0 ${top} ${wide + margin} ${foot - top}`} aria-hidden="true">
          {hands.map(({ word, y }) => (
            <text
              key={word}
              class="mid bold fill-draw"
              font-size={letters}
              transform={`translate(${wide + letters} ${y}) rotate(-90)`}
            >
              {word}
            </text>
          ))}
          {view.lines.map((line, at) => (
            <path
              key={at}
              class={`ln-draw ${line.weight === 'medium' ? 'medium' : 'thin'}`}
              d={pathOf(line.points, line.closed === true)}
            />
          ))}
          {patches.map((patch) => (
            <ZonePatch
              key={patch.zone}
              patch={patch}
              records={held.get(patch.zone)?.records ?? 0}
              chosen={chosen.includes(patch.zone)}
              letters={letters}
              aloft={aloft.has(patch.zone) ? [aloft.get(patch.zone) ?? 0, top] : null}
              onChoose={() => props.onChoose(patch.zone)}
            />
          ))}
        </svg>
      </div>
    </ViewFrame>
  );
}

function ZonePatch(props: {
  patch: Patch;
  records: number;
  chosen: boolean;
  letters: number;
  /** Where its number stands over the drawing, and the drawing's top; null: on the patch. */
  aloft: [x: number, top: number] | null;
  onChoose: () => void;
}) {
  const { patch, records, chosen, letters, aloft } = props;
  const [wide, high] = [letters * NUMBER_WIDE, letters * (records ? 2.05 : 1.3)];
  const [middle_x, middle_y] = middleOf(patch);
  const [x, y] = aloft ? [aloft[0], aloft[1] + high / 2] : [middle_x, middle_y];
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the list beside does it by keyboard
    <g class={`zone-patch ${chosen ? 'chosen' : ''}`} onClick={props.onChoose}>
      <path class="zone-area" d={pathOf(patch.points, true)} />
      {aloft && <path class="ln thin" d={`M${x} ${y}L${middle_x} ${middle_y}`} />}
      <rect
        class={chosen ? 'fill-ink' : 'fill-ground'}
        x={x - wide / 2}
        y={y - high / 2}
        width={wide}
        height={high}
      />
      <text class={`mid bold ${chosen ? 'fill-of-ground' : ''}`} font-size={letters} x={x}>
        <tspan x={x} y={records ? y - letters * 0.16 : y + letters * 0.36}>
          {patch.zone}
        </tspan>
      </text>
      {records > 0 && (
        <text
          class={`mid ${chosen ? 'fill-of-ground' : ''}`}
          font-size={letters * 0.88}
          x={x}
          y={y + letters * 0.76}
        >
          {records}
        </text>
      )}
    </g>
  );
}

const NUMBER_WIDE = 3.2;

/** Numbers of patches too narrow for them stand in a row over the drawing, each on its leader. */
function placedAloft(patches: readonly Patch[], letters: number, wide: number) {
  const number_wide = letters * NUMBER_WIDE;
  const narrow = patches
    .filter((patch) => acrossOf(patch) < number_wide)
    .sort((one, other) => middleOf(one)[0] - middleOf(other)[0]);
  const middles = narrow.map((patch) => middleOf(patch)[0]);
  const xs = spread(middles, number_wide * 1.1, number_wide / 2, wide - number_wide / 2);
  return new Map(narrow.map((patch, at) => [patch.zone, xs[at] ?? 0]));
}

function pathOf(points: readonly (readonly number[])[], closed: boolean): string {
  return `M${points.map(([x, y]) => `${x} ${y}`).join('L')}${closed ? 'Z' : ''}`;
}
