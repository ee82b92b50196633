import { Key } from './key.tsx';
import './cardsize.css';

/** Width and height of a bank card: ISO/IEC 7810, size ID-1 (85.60 × 53.98 mm). */
export const CARD_MM = { width: 85.6, height: 53.98 };
/** Keys used inside the structure are at least this wide and high. */
export const INSIDE_MM = 20;
const SCREENS = { least: 2.5, most: 14 };
const [LEAST_PX, MOST_PX] = [72, 220];

/** Width in px that a key inside the structure needs on this screen. */
export function targetInside(px_per_mm: number): number {
  return Math.min(Math.max(Math.ceil(INSIDE_MM * px_per_mm), LEAST_PX), MOST_PX);
}

/** The size after one key: the drawn card grows or shrinks by so many px. */
export function cardStep(px_per_mm: number, px: number): number {
  const next = px_per_mm + px / CARD_MM.width;
  return Math.min(Math.max(next, SCREENS.least), SCREENS.most);
}

export interface CardSizeProps {
  px_per_mm: number;
  onChange: (px_per_mm: number) => void;
  onKeep: () => void;
  onLeave: () => void;
}

/** A card drawn at the size this screen is thought to have; keys bring it to the card on the glass. */
export function CardSize({ px_per_mm, onChange, onKeep, onLeave }: CardSizeProps) {
  const wide = CARD_MM.width * px_per_mm;
  const high = CARD_MM.height * px_per_mm;
  const steps = [
    { label: 'SMALLER', second: 'by 12 px', px: -12 },
    { label: 'SMALLER', second: 'by 1 px', px: -1 },
    { label: 'LARGER', second: 'by 1 px', px: 1 },
    { label: 'LARGER', second: 'by 12 px', px: 12 },
  ];
  return (
    <div class="card-size">
      <p>
        Lay a bank card on the glass, its left edge on the drawn one. LARGER and SMALLER until they
        are the same width. One screen millimetre is then <strong>{px_per_mm.toFixed(2)} px</strong>
        .
      </p>
      <svg
        class="card-drawn"
        width={wide + 4}
        height={high + 4}
        role="img"
        aria-label={`Drawn card, ${Math.round(wide)} px wide`}
      >
        <rect class="ln thick" x={2} y={2} width={wide} height={high} rx={3 * px_per_mm} />
        <text class="px16 mid" x={wide / 2} y={high / 2}>
          bank card, 85.6 mm
        </text>
      </svg>
      <div class="card-keys">
        {steps.map(({ label, second, px }) => (
          <Key
            key={px}
            label={label}
            second={second}
            onPress={() => onChange(cardStep(px_per_mm, px))}
          />
        ))}
        <Key label="AS IT WAS" onPress={onLeave} />
        <Key
          label="KEEP THIS SIZE"
          second={`keys ${targetInside(px_per_mm)} px, ${INSIDE_MM} mm`}
          kind="main"
          place="card-keep"
          onPress={onKeep}
        />
      </div>
    </div>
  );
}
