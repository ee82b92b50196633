import { useEffect, useReducer, useRef } from 'preact/hooks';

const waiting: (() => void)[] = [];
/** A page that is not painted, as one in the background, does its work all the same. */
const LATEST_MS = 500;
let timer: ReturnType<typeof setTimeout> | undefined;

/** Does work once what the person pressed is painted, in the order it was asked for; work that
still waits when the page is put aside is done at once. */
export function afterPaint(work: () => void): void {
  waiting.push(work);
  if (waiting.length > 1) return;
  timer = setTimeout(doAll, LATEST_MS);
  // A timer set within a frame runs when that frame is painted.
  requestAnimationFrame(() => setTimeout(doAll, 0));
}

function doAll(): void {
  clearTimeout(timer);
  for (const work of waiting.splice(0)) work();
}

globalThis.addEventListener?.('pagehide', doAll);
globalThis.addEventListener?.('visibilitychange', doAll, { capture: true });

/** A value as it was when the page was last painted: what costs much and hangs on it is drawn after
the rest. Other `inputs` take the new value over at once. */
export function useSettled<T>(value: T, inputs: readonly unknown[]): T {
  const shown = useRef({ value, inputs });
  const [, again] = useReducer((times: number) => times + 1, 0);
  if (inputs.some((one, at) => one !== shown.current.inputs[at])) shown.current = { value, inputs };
  useEffect(() => {
    if (shown.current.value === value) return;
    let is_left = false;
    afterPaint(() => {
      if (is_left) return;
      shown.current = { value, inputs };
      again(undefined as never);
    });
    return () => {
      is_left = true;
    };
  }, [value]);
  return shown.current.value;
}
