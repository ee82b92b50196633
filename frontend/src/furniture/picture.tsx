import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { PictureBounds, PictureScale } from './frame.ts';
import { useWidth } from './measured.ts';
import './picture.css';

export interface DetailPictureProps {
  src: string;
  /** What the picture shows, for those who can't see it. */
  alt: string;
  /** Size of the upright photograph in its own px: marks are drawn in these. */
  width_px: number;
  height_px: number;
  /** Letter of the detail on its sheet. */
  letter?: string | undefined;
  /** Words at the top left instead: "A/0002 last time, 2025-03-08". */
  heading?: string | undefined;
  /** Under the picture: "close · 2025-03-08 · 1 of 3". */
  caption?: string | undefined;
  /** Wax rings, arrows, dimension lines, in px of the photograph. */
  children?: ComponentChildren;
  /** Load at once: the picture the sheet is about. */
  eager?: boolean | undefined;
  /** Taken in a mirror: picture and marks are shown turned left for right. */
  mirrored?: boolean | undefined;
  /** A touch, in px of the photograph. */
  onPick?: ((point: { x: number; y: number }, grain: Grain) => void) | undefined;
}

/** How coarsely a photograph was seen: how many of its own px one px of the screen takes in, and
one of the copy that is shown. */
export interface Grain {
  screen_px: number;
  copy_px: number;
}

/** A photograph set into the sheet as a detail, with marks laid over it. */
export function DetailPicture(props: DetailPictureProps) {
  const box = useRef<HTMLDivElement>(null);
  const shown_px = useWidth(box, 400);
  const scale = props.width_px / shown_px;
  return (
    <figure class="detail">
      <div class={props.mirrored ? 'detail-picture mirrored' : 'detail-picture'} ref={box}>
        <img
          src={props.src}
          alt={props.alt}
          width={props.width_px}
          height={props.height_px}
          loading={props.eager ? 'eager' : 'lazy'}
          decoding="async"
          draggable={false}
        />
        <svg
          class="detail-marks"
          aria-hidden="true"
          viewBox={`0 0 ${props.width_px} ${props.height_px}`}
          onClick={(event) => pick(event, props)}
        >
          <PictureBounds.Provider value={props}>
            <PictureScale.Provider value={scale}>{props.children}</PictureScale.Provider>
          </PictureBounds.Provider>
        </svg>
        {props.letter !== undefined && <span class="detail-letter">{props.letter}</span>}
        {props.heading !== undefined && <span class="detail-heading">{props.heading}</span>}
      </div>
      {props.caption !== undefined && <figcaption>{props.caption}</figcaption>}
    </figure>
  );
}

function pick(event: MouseEvent, props: DetailPictureProps) {
  if (!props.onPick) return;
  const frame = (event.currentTarget as Element).getBoundingClientRect();
  const along = (event.clientX - frame.left) / frame.width;
  const image = (event.currentTarget as Element).parentElement?.querySelector('img');
  const copy_px = props.width_px / (image?.naturalWidth || props.width_px);
  const x = (props.mirrored ? 1 - along : along) * props.width_px;
  const y = ((event.clientY - frame.top) / frame.height) * props.height_px;
  props.onPick({ x, y }, { screen_px: props.width_px / frame.width, copy_px });
}
