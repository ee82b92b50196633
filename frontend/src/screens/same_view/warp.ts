/** Where a picture is laid over another on the screen, as a transform of CSS. */

import type { Size } from '../../domain/same_view';

type Nine = [number, number, number, number, number, number, number, number, number];

export interface Laid {
  size: Size;
  mirrored: boolean;
}

/** Transform of an image drawn at its own size with its origin in the corner.

`to_other` leads from px as shown to those of the other picture, which is drawn `shown_px` wide;
without it the picture fills the other's frame as far as it goes. */
export function cssTransform(
  { size, mirrored }: Laid,
  other: Size,
  shown_px: number,
  to_other: readonly number[] | null,
): string {
  const turned: Nine = mirrored ? [-1, 0, size[0], 0, 1, 0, 0, 0, 1] : UNTURNED;
  const shrunk = shown_px / other[0];
  const laid = (to_other ?? inFrame(size, other)) as Nine;
  const [a, b, c, d, e, f, g, h, i] = product(
    [shrunk, 0, 0, 0, shrunk, 0, 0, 0, 1],
    product(laid, turned),
  );
  const columns = [a, d, 0, g, b, e, 0, h, 0, 0, 1, 0, c, f, 0, i];
  return `matrix3d(${columns.map((one) => Number((one / i).toPrecision(12))).join(',')})`;
}

const UNTURNED: Nine = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** A picture in the middle of another's frame, as large as it goes. */
export function inFrame(size: Size, other: Size): Nine {
  const scale = Math.min(other[0] / size[0], other[1] / size[1]);
  const [x, y] = [(other[0] - size[0] * scale) / 2, (other[1] - size[1] * scale) / 2];
  return [scale, 0, x, 0, scale, y, 0, 0, 1];
}

function product(one: Nine, other: Nine): Nine {
  const cell = (at: number) => {
    const [row, column] = [3 * Math.floor(at / 3), at % 3];
    return [0, 1, 2].reduce(
      (sum, step) => sum + (one[row + step] as number) * (other[3 * step + column] as number),
      0,
    );
  };
  return [0, 1, 2, 3, 4, 5, 6, 7, 8].map(cell) as Nine;
}
