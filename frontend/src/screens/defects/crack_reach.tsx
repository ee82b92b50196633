import type { Observation } from '../../domain/crack';
import { figureText, tenthNmOrNull } from '../../domain/quantities';
import { DimensionLine } from '../../furniture';
import type { Json } from '../../services/shop';
import { type ReachDrawn, reachOf } from './crack_reach_values';

const [WIDE, HIGH] = [780, 176];
const BOX = { left: 90, right: 700 };
const [TOP, MIDDLE, FOOT] = [8, 66, 132];

/**
 * The crack from its start: its length as a share of the way to the next hole or edge. What it
 * starts at nobody says, nor which of the two lies ahead, so no hole is drawn.
 */
export function CrackReach(props: {
  observations: readonly Observation[];
  limit: Json | undefined;
  /** Words of what is left: "1.60 − 0.81 = 0.79 ± 0.03 in". */
  left: string | null;
}) {
  const { observations, limit, left } = props;
  const drawn = reachOf(observations, limit, BOX);
  const last = observations.at(-1);
  if (!drawn || !last) return null;
  const has_limit = tenthNmOrNull(limit) !== null;
  const words = figureText(last.length);
  const spoken = has_limit
    ? `From its start the crack reaches ${words} of ${figureText(limit)} to the next hole or edge`
    : `From its start the crack reaches ${words}; how far the next hole or edge is was not measured`;
  return (
    <figure class="crack-reach">
      <figcaption>
        <b>THE CRACK FROM ITS START</b> lengths to scale, path not
        {!has_limit && ' · next hole or edge not measured'}
      </figcaption>
      <svg role="img" aria-label={spoken} viewBox={`0 0 ${WIDE} ${HIGH}`}>
        {has_limit && <NextEdge drawn={drawn} />}
        <path class="ln thin" d={`M${BOX.left} ${MIDDLE - 14}v28`} />
        {drawn.earlier.map((x) => (
          <path key={x} class="ln thin" d={`M${x} ${MIDDLE - 14}v28`} />
        ))}
        <path class="ln thick" d={pathOf(drawn)} />
        {drawn.low !== null && drawn.high !== null && (
          <path
            class="ln medium"
            d={`M${drawn.low} ${MIDDLE}H${drawn.high}M${drawn.low} ${MIDDLE - 9}v18M${drawn.high} ${MIDDLE - 9}v18`}
          />
        )}
        <DimensionLine
          from={{ x: BOX.left, y: MIDDLE }}
          to={{ x: drawn.tip, y: MIDDLE }}
          off_px={-50}
          value={words}
        />
        {has_limit && drawn.tip < BOX.right - 24 && (
          <DimensionLine
            from={{ x: drawn.tip, y: MIDDLE }}
            to={{ x: BOX.right, y: MIDDLE }}
            off_px={-50}
            value={left ?? undefined}
          />
        )}
      </svg>
    </figure>
  );
}

/** Where the next hole or edge begins, as far as it was measured: which of the two is not said. */
function NextEdge({ drawn }: { drawn: ReachDrawn }) {
  const { right } = BOX;
  return (
    <>
      <path class="ln-draw medium" d={`M${right} ${TOP}V${FOOT - 8}`} />
      <text class="px14 end" x={WIDE - 4} y={FOOT + 12}>
        next hole or edge
      </text>
      {drawn.tip > right && (
        <text class="px16 bold end" x={WIDE - 4} y={HIGH - 6}>
          past the next hole or edge
        </text>
      )}
    </>
  );
}

/** A wandering line from the start to the tip; how it wanders is not measured. */
function pathOf({ tip }: ReachDrawn): string {
  const steps = 8;
  const points = Array.from({ length: steps + 1 }, (_, at) => {
    const x = BOX.left + ((tip - BOX.left) * at) / steps;
    const off = at === 0 || at === steps ? 0 : at % 2 === 0 ? 3 : -3;
    return `${x.toFixed(1)} ${MIDDLE + off}`;
  });
  return `M${points.join('L')}`;
}
