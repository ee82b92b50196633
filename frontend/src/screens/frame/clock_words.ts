/** How far a browser's clock is off: "3 h 5 min slow", "12 s fast"; the offset is what it lacks. */
export function offsetWords(offset_ms: number): string {
  const size = Math.abs(offset_ms);
  if (size < 1000) return 'right';
  return `${sizeWords(Math.round(size / 1000))} ${offset_ms > 0 ? 'slow' : 'fast'}`;
}

function sizeWords(seconds: number): string {
  if (seconds < 120) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 120) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return `${Math.floor(hours / 24)} days`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}
