import { NotLookedAt, textWidth } from '../../furniture';
import type { Area, ZoneAreas } from '../../services/airframe_cells';

interface Paper {
  x: (station: number) => number;
  y: (line: number) => number;
  row_px: number;
}

const LINE_PX = 8;

/** Zones as bands in chain lines with their numbers; gaps hatched, overlaps crossed. */
export function Fields({ areas, paper }: { areas: ZoneAreas; paper: Paper }) {
  return (
    <g>
      {areas.gaps.map((area) => (
        <Gap key={keyOf(area)} box={boxOf(area, paper)} />
      ))}
      {areas.bands.map((area) => (
        <Band key={keyOf(area)} area={area} box={boxOf(area, paper)} />
      ))}
      {areas.overlaps.map((area) => (
        <Crossed key={keyOf(area)} area={area} box={boxOf(area, paper)} />
      ))}
      {areas.bands.map((area) => (
        <Name key={keyOf(area)} text={area.zones.join()} box={boxOf(area, paper)} />
      ))}
    </g>
  );
}

interface Box {
  left: number;
  top: number;
  wide: number;
  high: number;
}

function keyOf(area: Area): string {
  return `${area.zones.join()} ${area.hand} ${area.from} ${area.low}`;
}

/** The keel line of two hands has no width of its own: it is drawn as a narrow band. */
function boxOf(area: Area, { x, y }: Paper): Box {
  const left = x(area.from);
  const wide = x(area.to) - left;
  if (area.hand === 'C' && area.low === 0 && area.high === 1)
    return { left, wide, top: y(0) - LINE_PX / 2, high: LINE_PX };
  const [top, foot] = [y(area.high), y(area.low)];
  return { left, wide, top, high: foot - top };
}

function Band({ area, box }: { area: Area; box: Box }) {
  if (area.hand === 'C' && box.high === LINE_PX) return null;
  return (
    <rect
      class="ln-draw medium zone-band"
      x={box.left}
      y={box.top}
      width={box.wide}
      height={box.high}
    />
  );
}

function Gap({ box }: { box: Box }) {
  const wide = textWidth('NO ZONE', 14, true) + 10;
  const has_room = box.high >= 20 && box.wide >= wide;
  return (
    <g>
      <NotLookedAt x={box.left} y={box.top} width={box.wide} height={box.high} joins />
      {has_room && <Lettered text="NO ZONE" box={box} wide={wide} />}
    </g>
  );
}

function Crossed({ area, box }: { area: Area; box: Box }) {
  const { left, top, wide, high } = box;
  const [right, foot] = [left + wide, top + high];
  const text = area.zones.join(' + ');
  const text_px = textWidth(text, 14, true) + 10;
  return (
    <g>
      <path
        class="ln medium"
        d={`M${left} ${top}L${right} ${foot}M${right} ${top}L${left} ${foot}M${left} ${top}H${right}V${foot}H${left}Z`}
      />
      {high >= 20 && wide >= text_px && <Lettered text={text} box={box} wide={text_px} />}
    </g>
  );
}

function Name({ text, box }: { text: string; box: Box }) {
  const wide = textWidth(text, 14, true) + 8;
  if (box.high < 18 || box.wide < wide + 4) return null;
  return (
    <g>
      <rect class="fill-ground" x={box.left + 3} y={box.top + 2} width={wide} height={16} />
      <text class="px14 bold fill-draw" x={box.left + 7} y={box.top + 15}>
        {text}
      </text>
    </g>
  );
}

function Lettered({ text, box, wide }: { text: string; box: Box; wide: number }) {
  const [x, y] = [box.left + box.wide / 2, box.top + box.high / 2];
  return (
    <g>
      <rect class="fill-ground" x={x - wide / 2} y={y - 9} width={wide} height={18} />
      <text class="px14 bold mid" x={x} y={y + 5}>
        {text}
      </text>
    </g>
  );
}
