import { type Caution, cautionsFor } from '../../domain/cautions';
import type { Grading } from '../../domain/grading';
import { withoutCopied } from '../../domain/grading_figures';
import { gradeWithLines } from '../../domain/grading_line';
import { gradeWords, openWords } from '../../domain/grading_words';
import { fieldsFor, isLoss, KINDS, kindWords, MATERIALS } from '../../domain/kinds';
import { isQuantity, otherUnitText, percentText, toTenthNm } from '../../domain/quantities';
import type { PlateSectionProps } from '../../furniture/section';
import type { Json, Shop, Standard } from '../../services/shop';
import { useLive } from '../live';
import type { Asked } from './asked';
import type { KindListed } from './kind_keys';
import { bandsOf, hangsOnMaterial, limitsOf } from './limits';

/** What the screen says of a grade: the grading, its words, and the plate cut through. */
export interface Graded {
  grading: Grading | null;
  words: string;
  missing_words: string;
  loss_words: string;
  standard_words: string;
  section: PlateSectionProps | null;
  /** Whether the grade is less sure when a field is said to be not measured. */
  none_opens: (field: string) => boolean;
}

type Linked = { record: string } & Record<string, Json>;

/** The rivet lines that name a record, which its grade reads. */
export function useLinked(shop: Shop, record: string): readonly Linked[] {
  return useLive(shop, () => shop.book.related(record, 'rivet_line'), [record]) ?? [];
}

/** The grade of plain values by a standard, with what the rivet lines say. */
export function gradingOf(
  values: Record<string, Json>,
  linked: readonly Linked[],
  standard: Standard,
): Grading {
  const lines = linked.map(({ record, ...fields }) => [record, { [record]: fields }] as const);
  return gradeWithLines({ typed: values }, Object.fromEntries(lines), standard);
}

/** Grades the values as they stand, with the figure being typed in its place. */
export function gradedOf(
  values: Record<string, Json>,
  active: Asked | null,
  typed: Json | null,
  standard: Standard | null,
  linked: readonly Linked[] = [],
  here: 'on this tablet' | 'in this browser' = 'on this tablet',
): Graded {
  const now = withoutCopied(
    active && typed !== null ? { ...values, [active.field]: typed } : values,
  );
  if (!standard)
    return {
      grading: null,
      words: 'Not graded ?',
      missing_words: `No standard of acceptance is ${here} yet.`,
      loss_words: '',
      standard_words: '',
      section: null,
      none_opens: () => true,
    };
  const grading = gradingOf(now, linked, standard);
  return {
    grading,
    words: gradeWords(grading),
    missing_words: openWords(grading) || uncleanedWords(now),
    loss_words: lossWords(now),
    standard_words: `${standard.name} issue ${standard.issue}`,
    section: sectionOf(now, standard),
    none_opens: (field) => !gradingOf({ ...now, [field]: 'not measured' }, linked, standard).known,
  };
}

/** Fields that the record's kind asks for, in asking order. */
export function askedFor(values: Record<string, Json>): Asked[] {
  if (typeof values.kind !== 'string') return [];
  const material = typeof values.material === 'string' ? values.material : null;
  const fields = fieldsFor(values.kind, material) as unknown as (Asked & {
    worked_out?: boolean;
  })[];
  return fields
    .filter((one) => !one.worked_out)
    .map((one) => ({ ...one, optional: OPTIONAL.has(one.field) }));
}

/** What it is made of, where no part of the drawing says so and limits of its kind hang on it. */
export function materialAsked(values: Record<string, Json>, standard: Standard | null): Asked[] {
  const { kind, part, material } = values;
  if (typeof kind !== 'string' || (typeof part === 'string' && material !== undefined)) return [];
  if (!standard || !hangsOnMaterial(standard, kind)) return [];
  const choice_words = Object.fromEntries(
    Object.entries(MATERIALS).map(([word, { label }]) => [word, label]),
  );
  const choices = Object.keys(choice_words);
  return [{ field: 'material', label: 'Material', type: 'word', choices, choice_words }];
}

/** What raises a grade only where it is there to be seen. */
const OPTIONAL = new Set([
  'perforated',
  'next_hole',
  'blistered',
  'panel_percent',
  'paint',
  'highly_stressed',
  'fastener',
  'shank_rusted',
  'on_member',
  'creased',
]);

/** Kinds with their words, for the keys. */
export function kindsListed(): KindListed[] {
  return Object.entries(KINDS).map(([kind, row]) => ({
    kind,
    label: kindWords(kind),
    ...(typeof row.commonest === 'number' ? { commonest: row.commonest } : {}),
  }));
}

/** Cautions of the record's kind, that of a confined space first. */
export function cautionsOf(values: Record<string, Json>): Caution[] {
  return cautionsFor(typeof values.kind === 'string' ? values.kind : null, true);
}

/** "1.63 mm" beside a figure typed in inches. */
export function otherUnit(quantity: { value: string; unit: 'in' | 'mm' }): string {
  return otherUnitText(quantity);
}

/** A depth taken before anybody said that the product is off may be less than the true one. */
function uncleanedWords(values: Record<string, Json>): string {
  const asks = askedFor(values).some((one) => one.field === 'cleaned');
  if (!asks || !isQuantity(values.depth) || values.cleaned) return '';
  return 'Cleaned: not said. With the product still on, the true depth is more.';
}

function lossWords(values: Record<string, Json>): string {
  if (!isLoss(String(values.kind ?? '')) || !isQuantity(values.thickness)) return '';
  if (!isQuantity(values.depth)) return 'Loss of thickness: ?';
  return `Loss of thickness: ${percentText(values.depth, values.thickness)}`;
}

/** A question, no refusal, where a loss is typed that goes deeper than the plate is thick. */
export function deeperWords(values: Record<string, Json>): string | undefined {
  const { kind, depth, thickness } = withoutCopied(values) as Record<string, Json>;
  if (!isLoss(String(kind ?? '')) || !isQuantity(depth) || !isQuantity(thickness)) return undefined;
  const whole = toTenthNm(thickness);
  return whole > 0n && toTenthNm(depth) > whole ? DEEPER : undefined;
}

const DEEPER = 'Deeper than the plate – typed right?';

function sectionOf(values: Record<string, Json>, standard: Standard): PlateSectionProps | null {
  if (!isLoss(String(values.kind ?? '')) || !isQuantity(values.thickness)) return null;
  const thickness = Number(toTenthNm(values.thickness));
  if (thickness <= 0) return null;
  const measured = isQuantity(values.depth) ? Number(toTenthNm(values.depth)) : null;
  const depth = values.perforated === true ? thickness : measured;
  const limits = limitsOf(standard, String(values.kind), String(values.material));
  return {
    thickness,
    thickness_text: `${values.thickness.value}`,
    depth,
    depth_text: isQuantity(values.depth) ? values.depth.value : undefined,
    limits: limits.map(({ share, label }) => ({ share, label })),
    bands: bandsOf(limits),
  };
}
