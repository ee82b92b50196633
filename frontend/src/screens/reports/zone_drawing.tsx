import { useRef } from 'preact/hooks';
import { useWidth, ViewFrame } from '../../furniture';
import type { Definition } from '../../services/shop';
import { acrossOf, drawnHeight, middleOf, type Patch, patchesOf } from './patches';
import type { ZoneRow } from './zones';

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
  const [top, foot] = drawnHeight(view);
  const letters = (LETTERS_PX * wide) / width_px;
  const held = new Map(zones.map((one) => [one.zone, one]));
  return (
    <ViewFrame title={view.title} fwd={view.forward ?? 'left'} second="touch chooses a zone">
      <div class="zone-drawing" ref={box}>
        <svg viewBox={`0 ${top} ${wide} ${foot - top}`} aria-hidden="true">
          {view.lines.map((line, at) => (
            <path
              key={at}
              class={`ln-draw ${line.weight === 'medium' ? 'medium' : 'thin'}`}
              d={pathOf(line.points, line.closed === true)}
            />
          ))}
          {patchesOf(definition, view).map((patch) => (
            <ZonePatch
              key={patch.zone}
              patch={patch}
              records={held.get(patch.zone)?.records ?? 0}
              chosen={chosen.includes(patch.zone)}
              letters={letters}
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
  onChoose: () => void;
}) {
  const { patch, records, chosen, letters } = props;
  const [wide, high] = [letters * 3.2, letters * (records ? 2.3 : 1.3)];
  const [x, middle] = middleOf(patch);
  // A patch too narrow for its number has it above, clear of its neighbour's.
  const y = middle - (acrossOf(patch) < wide * 0.8 ? letters * 3 : 0);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the list beside does it by keyboard
    <g class={`zone-patch ${chosen ? 'chosen' : ''}`} onClick={props.onChoose}>
      <path class="zone-area" d={pathOf(patch.points, true)} />
      <rect
        class={chosen ? 'fill-ink' : 'fill-ground'}
        x={x - wide / 2}
        y={y - high / 2}
        width={wide}
        height={high}
      />
      <text class={`mid bold ${chosen ? 'fill-of-ground' : ''}`} font-size={letters} x={x}>
        <tspan x={x} y={records ? y - letters * 0.1 : y + letters * 0.36}>
          {patch.zone}
        </tspan>
      </text>
      {records > 0 && (
        <text
          class={`mid ${chosen ? 'fill-of-ground' : ''}`}
          font-size={letters * 0.88}
          x={x}
          y={y + letters * 0.85}
        >
          {records}
        </text>
      )}
    </g>
  );
}

function pathOf(points: readonly (readonly number[])[], closed: boolean): string {
  return `M${points.map(([x, y]) => `${x} ${y}`).join('L')}${closed ? 'Z' : ''}`;
}
