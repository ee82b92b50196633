import type { Structure } from '../../domain/place';

const LEFT: Readonly<Record<string, string>> = { outboard: 'INBOARD', inboard: 'OUTBOARD' };

/**
 * What stands over the drawing of a structure while it is typed: its stations grow to the right on
 * every hand, as in the scale above it, and the words say which way that is. The view that the book
 * keeps lies as it does on the aircraft and has words of its own.
 */
export function drawnHead({ name, positive, strakes }: Structure): {
  title: string;
  forward: 'left' | 'right' | null;
} {
  const way = positive.trim().toLowerCase();
  const forward = /^(fwd|forward)/.test(way) ? 'right' : /^aft/.test(way) ? 'left' : null;
  // Port lies above the keel line: seen from outside with the nose to the left, else from inside.
  const seen = forward === 'right' ? 'INSIDE' : 'OUTSIDE';
  const parts = [name.toUpperCase()];
  if (strakes.length > 1) parts.push(forward ? `DEVELOPED, SEEN FROM ${seen}` : 'DEVELOPED');
  if (!forward && way)
    parts.push(`${LEFT[way] ? `${LEFT[way]} TO THE LEFT, ` : ''}${way.toUpperCase()} TO THE RIGHT`);
  return { title: parts.join(', '), forward };
}
