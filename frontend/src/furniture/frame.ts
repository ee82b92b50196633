import { createContext } from 'preact';

/** Units of the drawing to one px of the screen: 1 on the sheet, more on a large photograph. */
export const PictureScale = createContext(1);

/** The photograph that is drawn on, in its own px; null on the sheet. */
export interface Bounds {
  width_px: number;
  height_px: number;
  /** Shown turned left for right, and what is drawn on it with it. */
  mirrored?: boolean | undefined;
}
export const PictureBounds = createContext<Bounds | null>(null);
