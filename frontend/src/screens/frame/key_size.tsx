import { useState } from 'preact/hooks';
import { CardSize, targetInside } from '../../furniture';

const NAME = 'skinpin.px_per_mm';
/** A 10-inch tablet of 1280 × 800. */
const USUAL_PX_PER_MM = 5.9;

/** Sizes the keys used inside the structure by what was measured on this screen. */
export function showKeySize(): number {
  const px_per_mm = kept();
  const { style } = document.documentElement;
  style.setProperty('--target-inside', `${targetInside(px_per_mm)}px`);
  return px_per_mm;
}

/** Keys of 20 mm: a bank card is laid on the glass and the drawn one brought to its size. */
export function KeySize({ onClose }: { onClose: () => void }) {
  const [px_per_mm, setSize] = useState(kept);
  const keep = () => {
    try {
      localStorage.setItem(NAME, String(px_per_mm));
    } catch {
      // A browser that keeps nothing shows the size until it is closed.
    }
    const { style } = document.documentElement;
    style.setProperty('--target-inside', `${targetInside(px_per_mm)}px`);
    onClose();
  };
  return <CardSize px_per_mm={px_per_mm} onChange={setSize} onKeep={keep} onLeave={onClose} />;
}

function kept(): number {
  try {
    const read = Number(localStorage.getItem(NAME));
    return read > 0 ? read : USUAL_PX_PER_MM;
  } catch {
    return USUAL_PX_PER_MM;
  }
}
