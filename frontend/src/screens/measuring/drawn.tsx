/** Scales, measurements and points being placed, drawn over a photograph in its own pixels. */

import { useContext } from 'preact/hooks';
import type { MeasuredShape, Scale } from '../../domain/photo_measure';
import { figureText } from '../../domain/quantities';
import { DimensionLine, PictureScale, textWidth, WaxStroke } from '../../furniture';
import type { Touch } from './placing';

export interface At {
  x: number;
  y: number;
}

const OFF_PX = 44;

/** What a scale is called: "scale 3.00 in", "bank card 85.60 mm × 53.98 mm". */
export function scaleWords({ object, length, width, height }: Scale): string {
  const sizes = [length, width, height].filter((one) => one !== undefined);
  return [object ?? 'scale', sizes.map((one) => figureText(one)).join(' × ')].join(' ');
}

/** A scale: a dimension line of two points, or the four sides of a rectangle. */
export function ScaleDrawn(props: { scale: Scale; height_px: number; quiet?: boolean }) {
  const { scale, quiet } = props;
  const points = scale.points.map(([x, y]): At => ({ x: x / 10, y: y / 10 }));
  const [from, to] = points;
  if (!from || !to) return null;
  const words = quiet ? undefined : scaleWords(scale);
  if (points.length === 2) {
    // It stands off under the rule, above it where the picture ends there.
    const [left, right] = from.x < to.x ? [from, to] : [to, from];
    const off_px = Math.max(from.y, to.y) > 0.8 * props.height_px ? OFF_PX : -OFF_PX;
    return <DimensionLine from={left} to={right} value={words} off_px={off_px} on="picture" />;
  }
  return (
    <>
      <Outline points={points} closed />
      {words && <PaperFlag at={below(points)} words={words} />}
    </>
  );
}

/** A measurement with its value: a dimension line, the path moved clear, or an outline. */
export function MeasuredDrawn(props: {
  shape: MeasuredShape;
  points: readonly At[];
  words: string | undefined;
}) {
  const { shape, words } = props;
  const points = [...props.points];
  const [from] = points;
  const to = points.at(-1);
  if (!from || !to) return null;
  if (shape === 'length')
    return <DimensionLine {...{ from, to, value: words }} off_px={OFF_PX} on="picture" />;
  if (shape === 'polyline') {
    const along = points;
    return <DimensionLine {...{ from, to, value: words, along }} off_px={OFF_PX} on="picture" />;
  }
  const said = words && (shape === 'diameter' ? `⌀ ${words}` : words);
  return (
    <>
      <Outline points={points} closed={shape === 'area'} />
      {said && <PaperFlag at={below(points)} words={said} />}
    </>
  );
}

/** A thin line through points, light at its edges, as a dimension line is. */
export function Outline({ points, closed }: { points: readonly At[]; closed: boolean }) {
  const d = `M${points.map(({ x, y }) => `${x} ${y}`).join('L')}${closed ? 'Z' : ''}`;
  return (
    <g class="dimension dimension-picture">
      <path class="dimension-edge" d={d} />
      <path class="dimension-line" d={d} />
    </g>
  );
}

/** Where each point lies; the one that the keys move has the heavier ring. */
export function PointsDrawn({ points, at }: { points: readonly Touch[]; at: number }) {
  const scale = useContext(PictureScale);
  return (
    <>
      {points.map(({ x, y }, number) => {
        const r = (number === at ? 13 : 8) * scale;
        const ring = `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
        return <WaxStroke key={number} d={ring} core_px={number === at ? 4 : 2.5} />;
      })}
    </>
  );
}

/** Words on a paper flag, as a dimension line carries its value. */
function PaperFlag({ at, words }: { at: At; words: string }) {
  const scale = useContext(PictureScale);
  const wide = textWidth(words, 18, true) + 20;
  return (
    <g class="dimension dimension-picture" transform={`translate(${at.x} ${at.y}) scale(${scale})`}>
      <rect class="flag flag-picture" x={-wide / 2} y={8} width={wide} height={28} />
      <text class="bold mid flag-words" y={28.5} font-size={18}>
        {words}
      </text>
    </g>
  );
}

/** Under the lowest point, in the middle of all. */
function below(points: readonly At[]): At {
  const xs = points.map(({ x }) => x);
  return {
    x: (Math.min(...xs) + Math.max(...xs)) / 2,
    y: Math.max(...points.map(({ y }) => y)),
  };
}
