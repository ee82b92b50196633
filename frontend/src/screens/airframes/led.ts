import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { PlacedTrouble } from './parts';

/** How often somebody was led to a trouble, and the act that leads: it turns to its part and focuses its cell. */
export function useLed(
  shown: { part: string; structure: number },
  turnTo: (trouble: PlacedTrouble) => void,
): { led: number; lead: (trouble: PlacedTrouble) => void } {
  const [wanted, setWanted] = useState<{ turn: number; trouble: PlacedTrouble } | null>(null);
  const done = useRef(0);
  // After each painting: the part, its structure or its table may come only with a later one.
  useLayoutEffect(() => {
    if (!wanted || done.current === wanted.turn || !isShown(wanted.trouble, shown)) return;
    const cell = cellOf(wanted.trouble);
    if (!cell) return;
    done.current = wanted.turn;
    cell.focus();
    cell.scrollIntoView({ block: 'nearest' });
  });
  return {
    led: wanted?.turn ?? 0,
    lead: (trouble) => {
      setWanted({ turn: (wanted?.turn ?? 0) + 1, trouble });
      turnTo(trouble);
    },
  };
}

function isShown(trouble: PlacedTrouble, shown: { part: string; structure: number }): boolean {
  if (trouble.part !== shown.part) return false;
  const is_own = trouble.part === 'members' || trouble.part === 'strakes';
  return !is_own || trouble.structure === null || trouble.structure === shown.structure;
}

/** The cell that is wrong, else the first of its line; what has no line begins the part. */
function cellOf({ row }: PlacedTrouble): HTMLElement | null {
  const box = document.querySelector('.part-typed');
  if (!box) return null;
  if (row === null)
    return box.querySelector<HTMLElement>(':is([aria-invalid="true"], input, textarea, a, button)');
  const cells = [...box.querySelectorAll<HTMLElement>(`[data-at^="${row}:"]`)];
  return cells.find((cell) => cell.getAttribute('aria-invalid') === 'true') ?? cells[0] ?? null;
}
