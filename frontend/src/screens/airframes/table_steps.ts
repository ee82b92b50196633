import type { Row } from '../../services/airframe_rows';

type At = [row: number, column: number];

/** Where a key leads from a cell; null where the key is the cell's own. */
export function stepTo(
  {
    key,
    shiftKey,
    altKey,
    ctrlKey,
    metaKey,
  }: Pick<KeyboardEvent, 'key' | 'shiftKey' | 'altKey' | 'ctrlKey' | 'metaKey'>,
  [row, column]: At,
  size: { rows: number; columns: number },
  caret: { first: boolean; last: boolean },
): At | null {
  if (shiftKey || altKey || ctrlKey || metaKey) return null;
  if (key === 'Enter') return row + 1 < size.rows ? [row + 1, 0] : [row, 0];
  if (key === 'ArrowUp') return row > 0 ? [row - 1, column] : null;
  if (key === 'ArrowDown') return row + 1 < size.rows ? [row + 1, column] : null;
  if (key === 'ArrowLeft' && caret.first && column > 0) return [row, column - 1];
  if (key === 'ArrowRight' && caret.last && column + 1 < size.columns) return [row, column + 1];
  return null;
}

/** Rows with the lines and columns of a pasted table put in from a cell on. */
export function pasted(
  rows: readonly Row[],
  columns: readonly string[],
  text: string,
  row: number,
  column: number,
): Row[] {
  const next = [...rows];
  const lines = text.replace(/\r\n?/g, '\n').replace(/\n+$/, '').split('\n');
  for (const [down, line] of lines.entries()) {
    const cells = line.split('\t').map((cell) => cell.trim());
    const put = cells.flatMap((cell, right) => {
      const name = columns[column + right];
      return name === undefined ? [] : [[name, cell] as const];
    });
    while (next.length <= row + down) next.push({});
    next[row + down] = { ...next[row + down], ...Object.fromEntries(put) };
  }
  return next;
}
