// A length from a photograph, and a second photograph of the same view, in whichever engine.
import { expect } from 'vitest';
import type { Sheet } from './sheet';

const SOON = { timeout: 20_000 };

/** Two points of 3 in, half the picture apart: a quarter of it is 1.5 in. */
export async function lengthFromPicture(sheet: Sheet): Promise<void> {
  await sheet.press(/^SCALE AND LENGTH/);
  await sheet.comesTo(/\/measure$/);
  await sheet.says('No scale is set.', '.readout');
  await sheet.press(/^SCALE/);
  await sheet.press(/^TWO POINTS/);
  await sheet.figures('3.00');
  await sheet.press(/^Next:/);
  await points(sheet, [0.25, 0.75], 0.8);
  await sheet.press(/^KEEP THE SCALE/);
  await sheet.says('scale 3.00 ± 0.005 in', '.flag-words');
  await sheet.press(/^LENGTH/);
  await points(sheet, [0.4, 0.65], 0.5);
  await sheet.says(/^[\d.]+ ± [\d.]+ in/, '.readout');
  const [value, doubt] = (await sheet.words('.readout')).split(/ ± | in/).map(Number);
  expect(Math.abs((value as number) - 1.5)).toBeLessThanOrEqual(doubt as number);
  await sheet.press(/^KEEP 1\./);
  await sheet.press(/^USE AS\s+LENGTH/);
  await sheet.says(/USE AS LENGTH is it now/);
}

async function points(sheet: Sheet, across: number[], down: number): Promise<void> {
  const rings = () => sheet.run(() => document.querySelectorAll('.wax-picture').length);
  const before = await rings();
  for (const [at, share] of across.entries()) {
    await sheet.touch('.detail-marks', share, down);
    await expect.poll(rings, SOON).toBe(before + at + 1);
  }
}

const RIVETS = [
  [0.3, 0.3],
  [0.7, 0.35],
  [0.45, 0.7],
] as const;

/** One more picture of the record; the same three rivets touched in both say that nothing turned. */
export async function sameViewAgain(sheet: Sheet, file: string): Promise<void> {
  await sheet.says('wide picture, stored on this tablet');
  const before = await sheet.run(() => location.pathname);
  await sheet.photograph(file, /^ONE MORE/);
  await expect.poll(() => sheet.run(() => location.pathname), SOON).not.toBe(before);
  await sheet.says('close picture, stored on this tablet');
  await sheet.press(/^COMPARE/);
  await sheet.comesTo(/\/same-view$/);
  await sheet.says('Touch rivet 1 in the earlier picture');
  for (const [rivet, [across, down]] of RIVETS.entries()) {
    for (const which of [0, 1]) {
      await sheet.touch('.rivet-picture.active .detail-marks', across, down);
      const spots = () => sheet.run(() => document.querySelectorAll('.rivet-spot').length);
      await expect.poll(spots, SOON).toBe(2 * rivet + which + 1);
    }
  }
  await sheet.says(/(not turned|turned 0\.\d° \S+), (of the same size|0\.\d % \S+)/, '.fit-panel');
  await sheet.press(/^KEEP THE FIT/);
  await sheet.says('by three rivets', '.fit-panel');
}
