export type Angle = 'first' | 'third';

export interface AngleSymbolProps {
  /** Angle of projection of the sections on the sheet. */
  angle: Angle;
}

/**
 * A cut cone from its side and from its small end, which lies left. In first-angle projection what
 * is seen from the left stands right, in third-angle it stands left.
 */
export function AngleSymbol({ angle }: AngleSymbolProps) {
  const cone = angle === 'first' ? 2 : 34;
  const end = angle === 'first' ? 48 : 16;
  const centre = `M${cone - 2} 16H${cone + 30}M${end - 15} 16h30M${end} 1v30`;
  return (
    <svg
      class="angle-symbol"
      role="img"
      aria-label={`${angle === 'first' ? 'First' : 'Third'}-angle projection`}
      width="64"
      height="32"
    >
      <path class="ln medium" d={`M${cone} 10V22L${cone + 28} 28V4Z`} />
      <circle class="ln medium" cx={end} cy="16" r="12" />
      <circle class="ln medium" cx={end} cy="16" r="6" />
      <path class="ln thin" stroke-dasharray="8 2 2 2" d={centre} />
    </svg>
  );
}
