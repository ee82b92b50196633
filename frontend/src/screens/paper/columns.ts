/** The columns of a paper form, in the order of the form and of the screen at the airframe. */

export interface Column {
  name: string;
  label: string;
  /** What may be typed, as an example. */
  example: string;
  needed?: boolean;
  /** The value of the line before stays for the next one. */
  stays?: boolean;
}

export const COLUMNS: readonly Column[] = [
  { name: 'paper_number', label: 'Number on the paper', example: '17', needed: true },
  { name: 'found_by', label: 'Found by', example: 'Inspector 2', needed: true, stays: true },
  { name: 'found_on', label: 'Found on', example: '2025-10-01', needed: true, stays: true },
  { name: 'structure', label: 'Structure', example: 'Hull', needed: true, stays: true },
  { name: 'hand', label: 'Hand', example: 'port', needed: true, stays: true },
  { name: 'position', label: 'Member + offset', example: 'F6 + 2.0', needed: true },
  { name: 'strakes', label: 'Strakes', example: 'K-B1' },
  { name: 'face', label: 'Face', example: 'inner', stays: true },
  { name: 'kind', label: 'Kind', example: 'pitting', needed: true },
  { name: 'material', label: 'Material', example: 'AL', stays: true },
  { name: 'part', label: 'Part', example: 'bottom plating', stays: true },
  { name: 'thickness', label: 'Plate thickness', example: '0.064 in' },
  { name: 'length', label: 'Length', example: '5.5 in' },
  { name: 'width', label: 'Width', example: '2 in' },
  { name: 'depth', label: 'Depth, deepest pit', example: 'not measured' },
  { name: 'cleaned', label: 'Cleaned', example: 'yes' },
  { name: 'note', label: 'Note', example: '' },
];

export type Typed = Record<string, string>;

/** The line that is typed next: what stays on a sheet of paper stays. */
export function nextLine(typed: Typed): Typed {
  const kept = COLUMNS.filter(({ stays }) => stays).map(({ name }) => [name, typed[name] ?? '']);
  const number = /^(.*?)(\d+)$/.exec(typed.paper_number ?? '');
  const next = number ? `${number[1]}${Number(number[2]) + 1}` : '';
  return { ...Object.fromEntries(kept), paper_number: next };
}
