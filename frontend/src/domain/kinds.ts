/** Kinds of defect, what each asks for, and the words of materials, grades and safety. */

import dispositions from '@tables/dispositions.json';
import grades from '@tables/grades.json';
import table from '@tables/kinds.json';
import materials from '@tables/materials.json';
import wording from '@tables/wording.json';

export type FieldType = 'quantity' | 'percent' | 'whole' | 'word' | 'yes_no';

export interface AskedField {
  field: string;
  type: FieldType;
  label: string;
  /** A gauge number may be typed for it. */
  gauge?: boolean;
  choices?: string[];
  /** Worked out from other records, never asked. */
  worked_out?: boolean;
}

interface KindField {
  field: string;
  label?: string;
  materials?: string[];
}

export interface Kind {
  label: string;
  group: string;
  commonest?: number;
  hand_off?: boolean;
  /** `loss`: the depth is metal gone, so it can't pass the thickness. */
  depth?: string;
  cautions: string[];
  fields: (string | KindField)[];
}

export interface Disposition {
  disposition: string;
  /** What is offered for inspection: "a patch". */
  work: string;
  suggested: number[];
  evidence: string[];
  groups?: string[];
}

export const KINDS: Readonly<Record<string, Kind>> = table.kinds;
export const GROUPS: Readonly<Record<string, string>> = table.groups;
export const ASKED = table.fields as Readonly<Record<string, Omit<AskedField, 'field'>>>;
export const MATERIALS: Readonly<Record<string, { label: string }>> = materials;
export const GRADES: readonly { grade: number; word: string; hand_off: boolean }[] = grades;
export const DISPOSITIONS: readonly Disposition[] = dispositions;
export const WORDING = wording;
export const NOT_KNOWN = 'not known';
export const HIGHEST = GRADES.length - 1;

/** A row of a table by a name that may be anything. */
export function rowOf<Row>(
  rows: Readonly<Record<string, Row>>,
  name: string | null | undefined,
): Row | undefined {
  return name != null && Object.hasOwn(rows, name) ? rows[name] : undefined;
}

/** A kind as a title: "Pitting"; a kind unknown here as it was written. */
export function kindWords(kind: string | null | undefined): string {
  return rowOf(KINDS, kind)?.label ?? (kind || 'Kind not given');
}

/** The group whose kinds may be the same defect seen twice. */
export function kindGroup(kind: string | null | undefined): string | null {
  return rowOf(KINDS, kind)?.group ?? null;
}

/** The eight kinds that have large keys, commonest first. */
export function commonestKinds(): string[] {
  const rank = (kind: string) => KINDS[kind]?.commonest ?? 0;
  return Object.keys(KINDS)
    .filter((kind) => rank(kind) > 0)
    .sort((a, b) => rank(a) - rank(b));
}

/**
 * The fields a kind asks for, in asking order. Where the material is not known, the fields of
 * every material are asked.
 */
export function fieldsFor(
  kind: string | null | undefined,
  material: string | null = null,
): AskedField[] {
  const open = material === null || material === NOT_KNOWN;
  return (rowOf(KINDS, kind)?.fields ?? [])
    .map((row): KindField => (typeof row === 'string' ? { field: row } : row))
    .filter((row) => open || !row.materials || row.materials.includes(material))
    .map(({ materials: _only, ...row }) => ({
      ...(ASKED[row.field] as Omit<AskedField, 'field'>),
      ...row,
    }));
}

/** Whether a kind's depth is metal gone, so that it can't pass the thickness. */
export function isLoss(kind: string | null | undefined): boolean {
  return rowOf(KINDS, kind)?.depth === 'loss';
}

/** The dispositions a kind may have; `suggested` where the grade suggests one. */
export function dispositionsFor(
  kind: string | null | undefined,
  grade: number | null = null,
): (Omit<Disposition, 'suggested'> & { suggested: boolean })[] {
  const group = kindGroup(kind);
  return DISPOSITIONS.filter((row) => !row.groups || (group && row.groups.includes(group))).map(
    (row) => ({ ...row, suggested: grade !== null && row.suggested.includes(grade) }),
  );
}

/** Whether a value is a grade: in whole figures, and not beyond the highest. */
export function isGrade(value: unknown): value is number {
  return Number.isInteger(value) && 0 <= (value as number) && (value as number) <= HIGHEST;
}
