import type { GradeFigure } from '../../furniture';
import type { SectionBand } from '../../furniture/section';
import type { Standard } from '../../services/shop';

export interface Limit {
  /** Share of the thickness, 0 to 1. */
  share: number;
  label: string;
  grade: GradeFigure;
}

/** Shares of the thickness at which rows of the standard fire, for one kind and material. */
export function limitsOf(standard: Standard, kind: string, material: string): Limit[] {
  const limits: Limit[] = [];
  for (const row of standard.rows as unknown as Row[]) {
    if (!holds(row.material, material) || !holds(row.kinds, kind)) continue;
    for (const percent of shares(row.when))
      limits.push({
        share: Number(percent) / 100,
        label: `${percent} %`,
        grade: row.grade as GradeFigure,
      });
  }
  return limits.sort((one, other) => one.share - other.share);
}

/** Whether any limit of a kind holds for some materials only. */
export function hangsOnMaterial(standard: Standard, kind: string): boolean {
  const rows = standard.rows as unknown as Row[];
  return rows.some((row) => row.material !== 'any' && holds(row.kinds, kind));
}

/** A grade mark in the middle of each band below a limit. */
export function bandsOf(limits: Limit[]): SectionBand[] {
  return limits.map((limit, at) => ({
    share: (limit.share + (limits[at + 1]?.share ?? 1)) / 2,
    grade: limit.grade,
  }));
}

interface Row {
  material: string | string[];
  kinds: string | string[];
  grade: number;
  when: unknown;
}

function holds(list: string | string[], word: string): boolean {
  return list === 'any' || list.includes(word);
}

/** Percentages of depth over thickness anywhere in a condition. */
function shares(when: unknown): string[] {
  if (Array.isArray(when)) return when.flatMap(shares);
  if (typeof when !== 'object' || when === null) return [];
  const condition = when as Record<string, unknown>;
  const pair = condition.share;
  if (Array.isArray(pair) && pair[0] === 'depth' && pair[1] === 'thickness') {
    const limit = condition.over ?? condition.at_least;
    return typeof limit === 'string' ? [limit] : [];
  }
  return [...shares(condition.any), ...shares(condition.all)];
}
