import { GradeMark } from './grade.tsx';
import { CutMetal } from './hatch.tsx';
import { textWidth } from './measured.ts';
import { spread } from './spread.ts';
import type { GradeFigure } from './words.ts';
import './section.css';

export interface SectionLimit {
  /** Depth of the limit as a share of the thickness: 0.1 for 10 %. */
  share: number;
  label: string;
}

export interface SectionBand {
  /** Middle of a band between limits, as a share, and the grade it bounds. */
  share: number;
  grade: GradeFigure;
}

export interface PlateSectionProps {
  /** Thickness and depth in one and the same unit. */
  thickness: number;
  /** Written at the foot: "0.064". */
  thickness_text: string;
  /** Nothing: not measured. The pit then has sides and no bottom. */
  depth: number | null;
  depth_text?: string | undefined;
  limits?: SectionLimit[] | undefined;
  bands?: SectionBand[] | undefined;
  /** Face that is uppermost: "inner face". */
  face?: string | undefined;
  /** Width of the metal and its height on the sheet, px. */
  width?: number | undefined;
  height?: number | undefined;
}

const LEFT = 8;
const LEAD = 44;
const LINE = 20;

/** The plate cut through: depth to scale, width not. */
export function PlateSection(props: PlateSectionProps) {
  const { width = 140, height = 128, limits = [], bands = [] } = props;
  const labels = [props.face ?? '', props.thickness_text, ...limits.map((limit) => limit.label)];
  const label_px = Math.max(...labels.map((label) => textWidth(label, 16, true)));
  const right = LEFT + width + LEAD;
  return (
    <figure class="plate-section">
      <figcaption class="view-title small">SECTION OF PLATE</figcaption>
      <svg
        role="img"
        aria-label={spokenSection(props)}
        width={Math.ceil(right + 4 + label_px)}
        height={height + 12}
        viewBox={`0 -6 ${Math.ceil(right + 4 + label_px)} ${height + 12}`}
      >
        <CutMetal x={LEFT} y={0} width={width} height={height} />
        <Pit {...props} width={width} height={height} />
        <Limits {...props} limits={limits} width={width} height={height} right={right} />
        {bands.map((band) => (
          <GradeMark
            key={band.grade}
            grade={band.grade}
            size={28}
            bare
            x={LEFT + width + 8}
            y={band.share * height - 14}
          />
        ))}
      </svg>
      <p class="section-note">depth to scale, width not</p>
    </figure>
  );
}

function spokenSection(props: PlateSectionProps): string {
  const depth =
    props.depth === null
      ? 'depth not measured'
      : `depth ${props.depth_text ?? props.depth} of ${props.thickness_text}`;
  const limits = (props.limits ?? []).map((limit) => limit.label).join(', ');
  return `Section of plate: ${depth}${limits ? `; limits at ${limits}` : ''}`;
}

type Sized = PlateSectionProps & { width: number; height: number };

/** Surfaces of the sheet with the pit cut out. */
function Pit({ depth, thickness, width, height }: Sized) {
  const from = LEFT + width * 0.36;
  const to = LEFT + width * 0.76;
  const deep = depth === null ? 0 : Math.min(depth / thickness, 1.02) * height;
  const through = depth !== null && depth >= thickness;
  const foot = through
    ? `M0 ${height}H${from + 14}M${to - 14} ${height}H${LEFT + width}`
    : `M0 ${height}H${LEFT + width}`;
  return (
    <>
      {depth === null ? (
        <NoBottom from={from} to={to} height={height} />
      ) : (
        <Bottom from={from} to={to} deep={deep} through={through} />
      )}
      <path class="ln thick" d={`M0 0H${from}M${to} 0H${LEFT + width}${foot}`} />
    </>
  );
}

function Bottom({
  from,
  to,
  deep,
  through,
}: {
  from: number;
  to: number;
  deep: number;
  through: boolean;
}) {
  const wide = to - from;
  const sides = `M${from} 0C${from + wide * 0.12} ${deep * 0.75} ${from + wide * 0.2} ${deep} ${from + wide * 0.36} ${deep}H${to - wide * 0.4}C${to - wide * 0.22} ${deep} ${to - wide * 0.1} ${deep * 0.7} ${to} 0`;
  return (
    <>
      <path class="section-pit" d={`${sides}Z`} />
      <path class={through ? 'ln medium section-through' : 'ln medium'} d={sides} />
    </>
  );
}

/** Not measured: the pit has sides and no bottom. */
function NoBottom({ from, to, height }: { from: number; to: number; height: number }) {
  const wide = to - from;
  const deep = height * 0.55;
  const middle = from + wide / 2;
  return (
    <>
      <path
        class="section-pit"
        d={`M${from} 0C${from + wide * 0.1} ${deep * 0.75} ${middle - wide * 0.2} ${deep} ${middle} ${deep}S${to - wide * 0.1} ${deep * 0.75} ${to} 0Z`}
      />
      <path
        class="ln pit-side"
        d={`M${from} 0C${from + wide * 0.05} ${deep * 0.38} ${from + wide * 0.12} ${deep * 0.65} ${from + wide * 0.2} ${deep * 0.82}M${to} 0C${to - wide * 0.05} ${deep * 0.38} ${to - wide * 0.12} ${deep * 0.65} ${to - wide * 0.2} ${deep * 0.82}`}
      />
      <text class="bold mid" x={middle} y={deep * 0.66} font-size={height * 0.3}>
        ?
      </text>
    </>
  );
}

/** Chain lines at the limits; labels keep apart on leaders. */
function Limits(props: Sized & { limits: SectionLimit[]; right: number }) {
  const { limits, height, width, right } = props;
  const above = props.face === undefined ? 0 : LINE;
  const feet = [...limits.map((limit) => limit.share * height), height];
  const places = spread(feet, LINE, above, height);
  return (
    <>
      {props.face !== undefined && (
        <text class="px14 second-ink" x={right + 4} y={4}>
          {props.face}
        </text>
      )}
      {limits.map((limit, at) => {
        const line = limit.share * height;
        const label = places[at] ?? line;
        const turn = LEFT + width + 6;
        return (
          <g key={limit.label}>
            <path class="ln section-limit chain" d={`M0 ${line}H${turn}`} />
            <path class="ln thin" d={`M${turn} ${line}L${right - 6} ${label}H${right}`} />
            <text class="px16 bold" x={right + 4} y={label + 6}>
              {limit.label}
            </text>
          </g>
        );
      })}
      <text class="px16 bold" x={right + 4} y={(places.at(-1) ?? height) + 6}>
        {props.thickness_text}
      </text>
    </>
  );
}
