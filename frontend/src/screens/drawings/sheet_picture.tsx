import { useContext, useState } from 'preact/hooks';
import { DetailPicture, Loupe, PictureScale } from '../../furniture';
import type { Shop } from '../../services/shop';
import { NotHere, usePicture } from '../frame/picture_here';
import { type Drawing, errorWords, type Fitted, type Known } from './known';

interface SheetPictureProps {
  shop: Shop;
  drawing: Drawing;
  fitted: Fitted | null;
  /** Which row of the table each point of the fit is. */
  rows: readonly { row: number; is_check: boolean }[];
  chosen: number | null;
  unit: string;
  onTouch: (px: [number, number]) => void;
  /** Moves the point chosen by pixels of the picture. */
  onNudge: (by: [number, number]) => void;
}

const ARROWS: Record<string, [number, number]> = {
  ...{ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] },
};

/** The picture with its points, each with its residual; arrow keys move the one chosen. */
export function SheetPicture(props: SheetPictureProps) {
  const { shop, drawing, chosen, onTouch } = props;
  const image = drawing.picture;
  const picture = usePicture(shop, image?.sha256);
  const [held, setHeld] = useState(false);
  if (!image) return null;
  if (picture.lack) return <NotHere {...{ shop, picture }} what="The picture" />;
  if (!picture.url) return <p class="part-hint">The picture is on its way …</p>;
  const point = chosen === null ? null : (drawing.points[chosen] ?? null);
  const nudge = (event: KeyboardEvent) => {
    const by = ARROWS[event.key];
    if (!by || !point?.px) return;
    event.preventDefault();
    const times = event.shiftKey ? 10 : 1;
    props.onNudge([by[0] * times, by[1] * times]);
  };
  return (
    <div
      class="sheet-picture"
      role="application"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys move the point chosen
      tabIndex={0}
      aria-label={spoken(point, chosen)}
      onKeyDown={nudge}
      onFocusIn={() => setHeld(true)}
      onFocusOut={() => setHeld(false)}
    >
      <DetailPicture
        src={picture.url}
        alt={`${drawing.title || 'Drawing'}, to be calibrated`}
        width_px={image.width_px}
        height_px={image.height_px}
        eager
        onPick={({ x, y }) => onTouch([Math.round(x * 10) / 10, Math.round(y * 10) / 10])}
      >
        <Points {...props} />
        {held && point?.px && (
          <Loupe
            at={{ x: point.px[0], y: point.px[1] }}
            src={picture.url}
            width_px={image.width_px}
            height_px={image.height_px}
          />
        )}
      </DetailPicture>
    </div>
  );
}

function spoken(point: Known | null, chosen: number | null): string {
  if (!point?.px || chosen === null) return 'Picture: touch the point chosen in the table';
  const [x, y] = point.px.map(Math.round);
  return `Point ${chosen + 1} at ${x}, ${y} px: arrow keys move it by 1 px, with Shift by 10`;
}

/** Numbered crosses, and the residual as an arrow with its figure: many times as long as it is. */
function Points({ drawing, fitted, rows, chosen, unit }: SheetPictureProps) {
  const scale = useContext(PictureScale);
  const used = rows.filter((one) => !one.is_check);
  return (
    <>
      {drawing.points.map((one, row) => {
        if (!one.px) return null;
        const at = used.findIndex((each) => each.row === row);
        const to = one.is_check ? fitted?.check_px : fitted?.fitted_px[at];
        const error = one.is_check ? fitted?.check_error : fitted?.errors[at];
        return (
          <g key={row} transform={`translate(${one.px[0]} ${one.px[1]}) scale(${scale})`}>
            <Cross row={row} is_check={one.is_check} is_chosen={row === chosen} />
            {to && error !== undefined && error !== null && (
              <Residual
                by={[to[0] - one.px[0], to[1] - one.px[1]]}
                words={errorWords(error, unit)}
              />
            )}
          </g>
        );
      })}
    </>
  );
}

function Cross(props: { row: number; is_check: boolean; is_chosen: boolean }) {
  const d = 'M-16 0H-4M4 0H16M0 -16V-4M0 4V16';
  const kind = props.is_chosen ? 'known-point chosen' : 'known-point';
  return (
    <g class={kind}>
      <path class="known-edge" d={d} />
      <path class="known-line" d={d} />
      {props.is_check && <path class="known-line" d="M-9 -9H9V9H-9Z" />}
      <text class="known-number" x={10} y={-10}>
        {props.is_check ? `${props.row + 1} CHECK` : props.row + 1}
      </text>
    </g>
  );
}

const TIMES = 20;
const [SHORTEST, LONGEST] = [14, 90];
const NOTHING_PX = 0.02;

/** An arrow towards where the fit puts the point, and how far off that is on the aircraft. */
function Residual({ by, words }: { by: [number, number]; words: string }) {
  const off = Math.hypot(by[0], by[1]);
  const long = Math.min(Math.max(off * TIMES, SHORTEST), LONGEST);
  const [x, y] = off < NOTHING_PX ? [0, 0] : [(by[0] / off) * long, (by[1] / off) * long];
  const turn = (Math.atan2(y, x) * 180) / Math.PI;
  return (
    <g class="residual">
      {off >= NOTHING_PX && (
        <>
          <path class="known-edge" d={`M0 0L${x} ${y}`} />
          <path class="residual-line" d={`M0 0L${x} ${y}`} />
          <path
            class="residual-head"
            transform={`translate(${x} ${y}) rotate(${turn})`}
            d="M4 0L-8 -5V5Z"
          />
        </>
      )}
      <text class="known-number" x={10} y={22}>
        {words}
      </text>
    </g>
  );
}
