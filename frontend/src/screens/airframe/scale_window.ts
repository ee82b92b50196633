import { useRef } from 'preact/hooks';
import {
  HULL_PX_PER_UNIT,
  type ScaleMember,
  type ScaleWindow,
  wholeOf,
  windowAround,
} from '../../furniture';

/** Share of the window at each end within which the position moves it on. */
const EDGE = 0.12;

/** The part of the structure shown: it stays still until the position comes near an end of it. */
export function useScaleWindow(
  station: number,
  members: ScaleMember[],
  structure: string,
  unit: 'in' | 'mm' = 'in',
): ScaleWindow {
  const last = useRef<{ window: ScaleWindow; structure: string; width_px: number } | null>(null);
  const width_px = globalThis.innerWidth || 800;
  const kept = last.current;
  if (kept?.structure === structure && kept.width_px === width_px && isWell(kept.window, station))
    return kept.window;
  const window = windowAround(
    ...([station, wholeOf(members), width_px] as const),
    HULL_PX_PER_UNIT / (unit === 'mm' ? 25.4 : 1),
  );
  last.current = { window, structure, width_px };
  return window;
}

function isWell(window: ScaleWindow, station: number): boolean {
  const edge = (window.to - window.from) * EDGE;
  return station >= window.from + edge && station <= window.to - edge;
}
