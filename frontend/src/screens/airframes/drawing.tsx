import { useMemo, useRef } from 'preact/hooks';
import type { Definition, Structure } from '../../domain/place';
import {
  AreaMeant,
  FwdArrow,
  type ScaleWindow,
  StationScale,
  stationX,
  useWidth,
  wholeOf,
} from '../../furniture';
import { type Area, zoneAreas } from '../../services/airframe_cells';
import { upperOf } from '../../services/airframe_views';
import { drawnHead } from './drawn_head';
import { Fields } from './fields_drawn';
import './drawing.css';

export interface DrawingProps {
  definition: Definition;
  structure: Structure;
  /** Station that the flag stands at: that of the line being typed. */
  station: number | null;
  /** Zones are drawn where they are described. */
  zoned: boolean;
  /** The zone whose line is being typed. */
  zone: string | null;
}

/** The structure as it is being described: members at true spacing, strakes as lines, zones as bands. */
export function Drawing(props: DrawingProps) {
  const { structure, station } = props;
  const members = useMemo(() => scaleMembers(structure), [structure]);
  if (members.length < 2) return <NothingYet structure={structure} count={members.length} />;
  const whole = withRoom(wholeOf(members));
  const at = station ?? members[0]?.station ?? 0;
  return (
    <figure class="described-drawing">
      <StationScale {...{ members }} window={whole} position={at} axis={structure.axis} />
      <Developed {...props} window={whole} />
    </figure>
  );
}

/** The name of the last member stands past it, as those of the strakes do. */
function withRoom({ from, to }: ScaleWindow): ScaleWindow {
  return { from, to: to + (to - from) * 0.03 };
}

/** Plain plate until there is something to draw between. */
function NothingYet({ structure, count }: { structure: Structure; count: number }) {
  return (
    <figure class="described-drawing nothing-yet">
      <svg width="100%" height="96" aria-hidden="true">
        <line class="ln-second thin" x1="24" x2="98%" y1="48" y2="48" stroke-dasharray="14 4 3 4" />
        <line class="ln thick" x1="24" x2="98%" y1="88" y2="88" />
      </svg>
      <figcaption>
        <b>{structure.name || 'No structure yet'}</b>
        {count === 1 ? ': one member; the drawing begins with the second.' : ': no members yet.'}
      </figcaption>
    </figure>
  );
}

/** Members that have a station, in order, as the scale wants them. */
export function scaleMembers(structure: Structure) {
  return structure.members
    .filter(({ station }) => station !== '' && Number.isFinite(Number(station)))
    .map((member) => ({
      name: member.name,
      station: Number(member.station),
      main: member.main === true,
      half: member.kind.startsWith('half'),
    }))
    .sort((one, two) => one.station - two.station);
}

const TOP = 34;
const MOST_ROW = 22;
/** What typing leaves of the window for strakes: the table below wants four lines at least. */
const highest = () => Math.min(300, Math.max(140, (globalThis.innerHeight || 800) - 660));

/** The scale reaches over the whole frame of the sheet, as this does: both have the same x. */
function Developed(props: DrawingProps & { window: ScaleWindow }) {
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 1000);
  const { structure, definition, window } = props;
  const [low, high] = rowsOf(structure);
  const row_px = Math.min(MOST_ROW, highest() / Math.max(high - low, 4));
  const x = (station: number) => stationX(window, width_px, station);
  const y = (line: number) => TOP + (high - line) * row_px;
  const areas = useMemo(() => zoneAreas(definition, structure), [definition, structure]);
  const head = drawnHead(structure);
  const paper = { x, y, row_px };
  const height = TOP + (high - low) * row_px + 10;
  const lines = useMemo(
    () => <Lines {...{ structure, low, high, width_px }} {...paper} />,
    [structure, low, high, width_px, window.from, window.to],
  );
  return (
    <div class="developed" ref={box}>
      <p class="view-head">
        {head.forward === 'left' && <FwdArrow fwd="left" />}
        <span class="view-title">{head.title}</span>
        {head.forward === 'right' && <FwdArrow fwd="right" />}
      </p>
      <svg width={width_px} height={height} role="img" aria-label={spoken(structure, props, areas)}>
        {lines}
        {props.zoned && <Fields {...{ areas, paper }} />}
        {props.zoned && props.zone && <Meant areas={areas.bands} zone={props.zone} {...paper} />}
      </svg>
    </div>
  );
}

interface Paper {
  x: (station: number) => number;
  y: (line: number) => number;
}

/** Lowest and highest strake line: port above the keel line, starboard below it. */
function rowsOf({ strakes, hands }: Structure): [low: number, high: number] {
  const last = Math.max(strakes.length - 1, 1);
  const only = !hands.includes('P') && !hands.includes('S');
  return [hands.includes('S') ? -last : 0, hands.includes('P') || only ? last : 0];
}

function Lines(
  props: Paper & { structure: Structure; low: number; high: number; width_px: number },
) {
  const { structure, low, high, x, y } = props;
  const members = scaleMembers(structure);
  const [first, last] = [members[0]?.station ?? 0, members.at(-1)?.station ?? 0];
  const [top, foot] = [y(high), y(low)];
  const strakes = structure.strakes.length > 1;
  const rows = Array.from({ length: high - low + 1 }, (_, at) => low + at);
  return (
    <g>
      <rect
        class="ln-draw medium"
        x={x(first)}
        y={top}
        width={x(last) - x(first)}
        height={foot - top}
      />
      {structure.members.map((member, at) => {
        const [from, upper] = [Number(member.station), Number(upperOf(member))];
        if (member.station === '' || !Number.isFinite(from)) return null;
        const half = member.kind.startsWith('half');
        return (
          <path
            key={at}
            class={`ln-draw ${member.main ? 'thick' : half ? 'thin hidden-line' : 'thin'}`}
            d={memberPath({ from: x(from), upper: x(upper) }, half, y, low, high)}
          />
        );
      })}
      {strakes &&
        rows.map((line) => (
          <g key={line}>
            <line
              class={`ln-draw ${line === 0 ? 'medium' : 'thin'}`}
              x1={x(first)}
              x2={x(last)}
              y1={y(line)}
              y2={y(line)}
            />
          </g>
        ))}
      {strakes && <StrakeNames {...{ structure, rows, x: x(last) + 4, y }} />}
    </g>
  );
}

/** A canted member leans out to its upper station; a half one ends a third of the way. */
function memberPath(
  at: { from: number; upper: number },
  half: boolean,
  y: (line: number) => number,
  low: number,
  high: number,
): string {
  const share = half ? 1 / 3 : 1;
  const farthest = Math.max(high, -low, 1);
  const point = (line: number) =>
    `${at.from + ((at.upper - at.from) * Math.abs(line)) / farthest} ${y(line)}`;
  return `M${point(high * share)}L${point(0)}L${point(low * share)}`;
}

/** Names of strake lines at the aft end, as many as there is room for. */
function StrakeNames(props: {
  structure: Structure;
  rows: readonly number[];
  x: number;
  y: (line: number) => number;
}) {
  const { structure, rows, x, y } = props;
  const last = structure.strakes.length - 1;
  let taken = Number.NEGATIVE_INFINITY;
  const shown = [...rows].reverse().filter((line) => {
    const is_end = line === 0 || Math.abs(line) === last;
    if (y(line) - taken < 13 && !is_end) return false;
    taken = y(line);
    return true;
  });
  return (
    <>
      {shown.map((line) => (
        <text key={line} class="px14 fill-draw strake-name" x={x} y={y(line) + 5}>
          {structure.strakes[Math.abs(line)]}
        </text>
      ))}
    </>
  );
}

function Meant({ areas, zone, x, y }: Paper & { areas: readonly Area[]; zone: string }) {
  return (
    <>
      {areas
        .filter((area) => area.zones.includes(zone))
        .map((area) => {
          const [a, b, top, foot] = [x(area.from), x(area.to), y(area.high), y(area.low)];
          return (
            <AreaMeant
              key={area.hand}
              d={`M${a} ${top}H${b}V${foot}H${a}Z`}
              name={zone}
              x={(a + b) / 2}
              y={(top + foot) / 2}
            />
          );
        })}
    </>
  );
}

function spoken(
  structure: Structure,
  { zoned }: DrawingProps,
  areas: { gaps: Area[]; overlaps: Area[] },
): string {
  const zones = zoned ? `, ${areas.gaps.length} gaps and ${areas.overlaps.length} overlaps` : '';
  return `${structure.name} developed: ${structure.members.length} members, ${structure.strakes.length} strakes${zones}`;
}
