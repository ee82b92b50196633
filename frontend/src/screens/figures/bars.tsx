import type { ComponentChildren } from 'preact';
import { SheetLink } from '../../furniture';
import './bars.css';

export interface DrawnBar {
  /** Name for the row: "over 180 days". */
  label: ComponentChildren;
  key: string;
  count: number;
  /** Part of the count that is inked; all of it where left out. */
  inked?: number | undefined;
  /** Address of the list that makes the bar. */
  href: string;
  /** The part inked as a list of its own, in the next column. */
  part?: { count: number; href: string } | undefined;
  /** Further cells, right of the counts. */
  more?: string[] | undefined;
}

export interface BarTableProps {
  caption: string;
  /** Under the caption: what ink and outline mean. */
  note?: string | undefined;
  /** Heads of the columns: of the labels, of the counts, of further cells. */
  heads: string[];
  bars: DrawnBar[];
  /** Longest bar that the scale must hold, so that tables side by side share one scale. */
  most?: number | undefined;
  go: (address: string) => void;
}

/** A plot of bars that is a table as well: each row is a key that opens the list it counts. */
export function BarTable(props: BarTableProps) {
  const { bars, heads, go } = props;
  const scale = scaleOf(props.most ?? Math.max(...bars.map((bar) => bar.count), 1));
  return (
    <table class="bars">
      <caption>
        <span class="bars-caption">{props.caption}</span>
        {props.note !== undefined && <span class="bars-note">{props.note}</span>}
      </caption>
      <thead>
        <tr>
          <th scope="col">{heads[0]}</th>
          <td class="bars-scale">
            <ScaleNumbers {...scale} />
          </td>
          {heads.slice(1).map((head) => (
            <th key={head} scope="col" class="bars-figure">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {bars.map((bar) => (
          <OneBar key={bar.key} bar={bar} scale={scale} go={go} />
        ))}
      </tbody>
    </table>
  );
}

interface Scale {
  /** Count at the right end. */
  end: number;
  step: number;
}

function OneBar({ bar, scale, go }: { bar: DrawnBar; scale: Scale; go: BarTableProps['go'] }) {
  return (
    <tr>
      <th scope="row">
        <BarLink href={bar.href} count={bar.count} go={go}>
          {bar.label}
        </BarLink>
      </th>
      <td class="bars-drawn">
        <BarDrawn count={bar.count} inked={bar.inked ?? bar.count} scale={scale} />
      </td>
      <td class="bars-figure">
        <b>{bar.count}</b>
      </td>
      {bar.part && <PartCell part={bar.part} go={go} />}
      {bar.more?.map((text, at) => (
        <td key={at} class="bars-figure">
          {text}
        </td>
      ))}
    </tr>
  );
}

function PartCell({
  part,
  go,
}: {
  part: { count: number; href: string };
  go: BarTableProps['go'];
}) {
  return (
    <td class="bars-figure bars-part">
      <BarLink href={part.href} count={part.count} go={go}>
        {part.count}
      </BarLink>
    </td>
  );
}

/** The name of a row opens its list; of an empty one there is nothing to open. */
export function BarLink(props: {
  href: string;
  count: number;
  go: (address: string) => void;
  children: ComponentChildren;
}) {
  if (props.count === 0) return <span class="bars-label">{props.children}</span>;
  return (
    <SheetLink class="bars-label bars-link" href={props.href} onOpen={props.go}>
      {props.children}
    </SheetLink>
  );
}

/** One bar on its scale: ink for the part inked, an outline for the rest. */
function BarDrawn({ count, inked, scale }: { count: number; inked: number; scale: Scale }) {
  const share = (part: number) => `${(100 * part) / scale.end}%`;
  return (
    <svg class="bar-drawn" aria-hidden="true">
      {ticksOf(scale).map((tick) => (
        <line
          key={tick}
          class={tick === 0 ? 'ln medium' : 'ln-second thin'}
          x1={share(tick)}
          x2={share(tick)}
          y1="0"
          y2="100%"
        />
      ))}
      {count > 0 && <rect class="bar-outline" x="0" y="13" width={share(count)} height="22" />}
      {inked > 0 && <rect class="bar-ink" x="0" y="13" width={share(inked)} height="22" />}
    </svg>
  );
}

function ScaleNumbers(scale: Scale) {
  return (
    <svg class="bar-scale" aria-hidden="true">
      {ticksOf(scale).map((tick) => (
        <text
          key={tick}
          class={`px14 ${tick === 0 ? '' : tick === scale.end ? 'end' : 'mid'}`}
          x={`${(100 * tick) / scale.end}%`}
          y="14"
        >
          {tick}
        </text>
      ))}
    </svg>
  );
}

function ticksOf({ end, step }: Scale): number[] {
  return Array.from({ length: Math.round(end / step) + 1 }, (_, at) => at * step);
}

/** A scale that holds a count in two to five whole steps of 1, 2 or 5 times a power of ten. */
export function scaleOf(most: number): Scale {
  for (let power = 1; ; power *= 10) {
    for (const times of [1, 2, 5]) {
      const step = times * power;
      if (most <= step * 5) return { step, end: step * Math.max(2, Math.ceil(most / step)) };
    }
  }
}
