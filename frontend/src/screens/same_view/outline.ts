/** The edges of a picture as a drawing that can lie over the live view. */

const LONGEST_PX = 800;
const SHARE_DRAWN = 0.08;

/** Marks the strongest edges of grey pixels: a core round which a light line runs, in RGBA.

The slope is Sobel's 3 × 3 (from memory); the strongest 8 % of the pixels are drawn. */
export function outlined(grey: Uint8ClampedArray, width: number, height: number) {
  const slope = slopes(grey, width, height);
  const least = leastDrawn(slope);
  const drawn = new Uint8ClampedArray(width * height * 4);
  const ink = (at: number, tone: number) => drawn.set([tone, tone, tone, 255], at * 4);
  for (let at = 0; at < slope.length; at += 1) {
    if ((slope[at] as number) < least) continue;
    ink(at, 16);
    for (const beside of [at - 1, at + 1, at - width, at + width]) {
      if (beside >= 0 && beside < slope.length && (slope[beside] as number) < least)
        ink(beside, 255);
    }
  }
  return drawn;
}

function slopes(grey: Uint8ClampedArray, width: number, height: number): Float32Array {
  const found = new Float32Array(width * height);
  for (let y = 1; y < height - 1; y += 1) {
    for (let x = 1; x < width - 1; x += 1) {
      const at = y * width + x;
      const g = (dx: number, dy: number) => grey[at + dx + dy * width] as number;
      const across = g(1, -1) + 2 * g(1, 0) + g(1, 1) - g(-1, -1) - 2 * g(-1, 0) - g(-1, 1);
      const down = g(-1, 1) + 2 * g(0, 1) + g(1, 1) - g(-1, -1) - 2 * g(0, -1) - g(1, -1);
      found[at] = Math.abs(across) + Math.abs(down);
    }
  }
  return found;
}

/** What the strongest share of the slopes reaches; an even picture has no edge at all. */
function leastDrawn(slope: Float32Array): number {
  const sorted = slope.slice().sort();
  return Math.max(sorted[Math.floor(sorted.length * (1 - SHARE_DRAWN))] ?? 0, 40);
}

/** Draws the outline of a picture and returns its address; give it back with URL.revokeObjectURL.

The canvas has at most 0.64 Mpx, and none is kept. */
export async function outlineOf(src: string): Promise<string> {
  const image = new Image();
  image.src = src;
  await image.decode();
  const shrunk = Math.min(1, LONGEST_PX / Math.max(image.naturalWidth, image.naturalHeight));
  const canvas = document.createElement('canvas');
  try {
    canvas.width = Math.max(3, Math.round(image.naturalWidth * shrunk));
    canvas.height = Math.max(3, Math.round(image.naturalHeight * shrunk));
    const pen = canvas.getContext('2d', { willReadFrequently: true });
    if (!pen) throw new Error('This browser draws no outline.');
    const { width, height } = canvas;
    pen.filter = 'blur(1px)';
    pen.drawImage(image, 0, 0, width, height);
    const seen = pen.getImageData(0, 0, width, height);
    seen.data.set(outlined(greyOf(seen.data), width, height));
    pen.putImageData(seen, 0, 0);
    return URL.createObjectURL(await bytesOf(canvas, 'image/png'));
  } finally {
    canvas.width = 0;
    canvas.height = 0;
  }
}

/** Grey by the weights of ITU-R BT.601. */
function greyOf(pixels: Uint8ClampedArray): Uint8ClampedArray {
  const grey = new Uint8ClampedArray(pixels.length / 4);
  for (let at = 0; at < grey.length; at += 1) {
    const [red, green, blue] = pixels.subarray(at * 4, at * 4 + 3);
    grey[at] = 0.299 * (red as number) + 0.587 * (green as number) + 0.114 * (blue as number);
  }
  return grey;
}

/** The bytes of what a canvas shows. */
export function bytesOf(canvas: HTMLCanvasElement, type: string, quality?: number): Promise<Blob> {
  return new Promise((done, failed) => {
    canvas.toBlob(
      (blob) => (blob ? done(blob) : failed(new Error('The picture could not be drawn.'))),
      type,
      quality,
    );
  });
}
