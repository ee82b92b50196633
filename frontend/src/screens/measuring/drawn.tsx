/** Scales, measurements and points being placed, drawn over a photograph in its own pixels. */

import { useContext } from 'preact/hooks';
import type { MeasuredShape, Scale } from '../../domain/photo_measure';
import { figureText, isQuantity, type Quantity } from '../../domain/quantities';
import { DimensionLine, Flag, PictureBounds, PictureScale, WaxStroke } from '../../furniture';
import type { Touch } from './placing';

export interface At {
  x: number;
  y: number;
}

const OFF_PX = 44;
/** From a shape to the middle of its flag. */
const FLAG_OFF_PX = 22;

/** What a scale is called: "scale 3.00 ± 0.005 in", "bank card 85.60 ± 0.13 × 53.98 ± 0.06 mm". */
export function scaleWords({ object, length, width, height }: Scale): string {
  const sizes = [length, width, height].filter((one) => one !== undefined);
  const words = sizes.map((one) => figureText(withoutNoise(one)));
  const unit = ` ${sizes[0]?.unit}`;
  // The same unit is said once, after the last.
  const last = words.length - 1;
  const isSame = words.every((said) => said.endsWith(unit));
  const said = words.map((one, at) => (isSame && at < last ? one.slice(0, -unit.length) : one));
  return [object ?? 'scale', said.join(' × ')].join(' ');
}

/** Without the noughts at the end of its ± and as many figures of its value: "80.0 ± 0.4". */
function withoutNoise(size: Quantity): Quantity {
  const { value, unit, uncertainty } = size;
  if (!isQuantity(uncertainty) || uncertainty.unit !== unit) return size;
  const noughts = /\.\d*?(0+)$/.exec(uncertainty.value)?.[1]?.length ?? 0;
  const places = (text: string) => text.split('.')[1]?.length ?? 0;
  if (noughts === 0 || places(value) !== places(uncertainty.value)) return size;
  const kept = Math.max(places(value) - noughts, 1);
  const doubt = uncertainty.value.slice(0, uncertainty.value.length - places(value) + kept);
  return { ...size, value: Number(value).toFixed(kept), uncertainty: { value: doubt, unit } };
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
      {words && <ShapeFlag {...{ points, words }} />}
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
      {said && <ShapeFlag points={points} words={said} />}
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

/** Words on a paper flag under a shape, or over it where the picture ends there. */
function ShapeFlag({ points, words }: { points: readonly At[]; words: string }) {
  const scale = useContext(PictureScale);
  const height_px = useContext(PictureBounds)?.height_px ?? Number.POSITIVE_INFINITY;
  const ys = points.map(({ y }) => y);
  const [upper, lower] = [Math.min(...ys), Math.max(...ys)];
  const off = FLAG_OFF_PX * scale;
  const y = lower + 2 * off > height_px && upper > 2 * off ? upper - off : lower + off;
  const xs = points.map(({ x }) => x);
  const x = (Math.min(...xs) + Math.max(...xs)) / 2;
  return (
    <g class="dimension dimension-picture">
      <Flag at={{ x, y }} words={words} on="picture" />
    </g>
  );
}
