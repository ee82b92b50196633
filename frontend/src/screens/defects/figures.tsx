import { useState } from 'preact/hooks';
import { gaugeOf } from '../../domain/gauge';
import {
  copiedFrom,
  figureText,
  isQuantity,
  isUnmeasured,
  isWithdrawn,
  otherUnitText,
  type Quantity,
  unmeasuredWords,
} from '../../domain/quantities';
import {
  DeskKey,
  type FigureLine,
  FigureLines,
  type GradeFigure,
  GradeMark,
  SafetyLine,
} from '../../furniture';
import { PlateSection } from '../../furniture/section';
import type { DefectRow, Json, Shop, Standard } from '../../services/shop';
import { besideWords, useBeside } from '../frame/photo_figures';
import { useLive } from '../live';
import type { Asked } from '../measure/asked';
import { askedFor, gradedOf, useLinked } from '../measure/graded';
import { useOverruled } from './decided_lines';

/** What was measured, the plate cut through, and the rules that decide the grade. */
export function Figures(props: {
  shop: Shop;
  row: DefectRow;
  values: Record<string, Json>;
  /** Off where there is no room for the plate cut through. */
  section?: boolean;
}) {
  const { shop, row, values, section = true } = props;
  const standard = usePinned(shop, row, values);
  const linked = useLinked(shop, row.record);
  const here = shop.device?.letter ? 'on this tablet' : 'in this browser';
  const graded = gradedOf(values, null, null, standard, linked, here);
  const { lines, seen } = linesOf(values);
  const beside = useFigureWords(shop, values);
  const overruled = useOverruled(shop, row);
  return (
    <section class="record-figures">
      <div>
        <FigureLines lines={lines} />
        {beside.map((words) => (
          <p key={words} class="figures-seen">
            {words}
          </p>
        ))}
        {seen && <p class="figures-seen">{seen}</p>}
      </div>
      {section && graded.section && <PlateSection {...graded.section} height={96} width={120} />}
      <div class="reasons">
        <h2 class="spoken">Grade and why</h2>
        {overruled && <p class="reason-overruled">{overruled}</p>}
        <Reasons row={row} />
        {graded.missing_words && <p class="grade-missing">{graded.missing_words}</p>}
        <p class="reasons-standard">
          Standard of acceptance {row.graded_by ?? graded.standard_words}
        </p>
        <SafetyLine wording="short" />
      </div>
    </section>
  );
}

/** What stood beside figures from photographs when they were taken. */
function useFigureWords(shop: Shop, values: Record<string, Json>): string[] {
  const figures = Object.entries(values).map(([field, value]) => ({
    name: NAMES[field] ?? field,
    value,
  }));
  const beside = useBeside(
    shop,
    figures.map(({ value }) => value),
  );
  return beside ? besideWords(figures, beside) : [];
}

type Rule = DefectRow['fired'][number];

/** Deciding rules first; the others are folded under a key. */
function Reasons({ row }: { row: DefectRow }) {
  const [is_open, setOpen] = useState(false);
  const fired = row.fired ?? [];
  const others = fired.filter(({ deciding }) => !deciding);
  return (
    <>
      {fired
        .filter(({ deciding }) => deciding || is_open)
        .map((rule) => (
          <Reason key={rule.rule + rule.reason} rule={rule} whole={is_open} />
        ))}
      {fired.length > 0 && (
        <DeskKey
          label={is_open ? 'Fold away' : foldedWords(others.length)}
          onPress={() => setOpen(!is_open)}
        />
      )}
    </>
  );
}

function foldedWords(others: number): string {
  if (others === 0) return 'Sources in full';
  return `Sources, and ${others} ${others === 1 ? 'rule' : 'rules'} that did not decide`;
}

function Reason({ rule, whole }: { rule: Rule; whole: boolean }) {
  return (
    <p class="reason">
      <GradeMark grade={rule.grade as GradeFigure} size={24} bare />
      <span>
        <strong>{rule.rule}</strong> {rule.reason}
        <small>
          {whole && `${rule.basis.text} · `}
          {rule.basis.source}
        </small>
      </span>
    </p>
  );
}

/** Short names for the lines of a sheet. */
const NAMES: Readonly<Record<string, string>> = {
  thickness: 'thickness',
  depth: 'depth',
  length: 'length',
  width: 'width',
  hole_major: 'hole, larger',
  hole_minor: 'hole, smaller',
  next_hole: 'to next hole',
  strength_percent: 'strength left',
  panel_percent: 'of the panel',
  run: 'in a row',
};

/** Figures as lines, and what is only yes, no or a word as one sentence. */
export function linesOf(values: Record<string, Json>): { lines: FigureLine[]; seen: string } {
  const asked = askedFor(values).filter(
    ({ field }) => values[field] !== undefined && values[field] !== null,
  );
  const isFigure = ({ type }: Asked) => ['quantity', 'percent', 'whole'].includes(type);
  return {
    lines: asked.filter(isFigure).map((one) => lineOf(one, values[one.field] as Json)),
    seen: asked
      .filter((one) => !isFigure(one))
      .map((one) => seenWords(one, values[one.field] as Json))
      .join(' · '),
  };
}

function lineOf(asked: Asked, value: Json): FigureLine {
  const name = NAMES[asked.field] ?? shortLabel(asked);
  if (!isQuantity(value)) return { name, value: valueText(asked, value) };
  if (isWithdrawn(value))
    return { name, value: figureText(value), second: unmeasuredWords(value), struck: true };
  if (isUnmeasured(value)) {
    const second = `${figureText(value)} copied from ${copiedFrom(value)}`;
    return { name, value: 'not measured', second };
  }
  return {
    name,
    value: figureText(value),
    second: secondOf(asked, value as Quantity & { instrument?: string }),
  };
}

function valueText({ type }: Asked, value: Json): string {
  return type === 'percent' && value !== 'not measured' ? `${value} %` : String(value);
}

/** The gauge number of a sheet, the gauge it was measured with, or the other unit. */
function secondOf(asked: Asked, value: Quantity & { instrument?: string }): string {
  if (asked.field === 'thickness' && value.unit === 'in') {
    const number = gaugeOf(value.value);
    if (number !== null) return `${number} SWG`;
  }
  return value.instrument ?? otherUnitText(value);
}

const IS_CLAUSE = /^(reaches|joins|growth|heads?|shank|paint)\b/;

function seenWords(asked: Asked, value: Json): string {
  const label = shortLabel(asked);
  if (value === true) return label;
  // “not perforated”, but “reaches an edge: no”.
  if (value === false) return IS_CLAUSE.test(label) ? `${label}: no` : `not ${label}`;
  return `${label}: ${value}`;
}

const shortLabel = ({ label }: Asked) => (label.split(',')[0] ?? label).toLowerCase();

/** The issue that a record is graded by; the newest here until that file is. */
function usePinned(shop: Shop, row: DefectRow, values: Record<string, Json>): Standard | null {
  const { standard } = shop;
  const pin = values.standard as { sha256?: string } | null | undefined;
  const sha256 = pin?.sha256;
  const isNewest = !standard || row.graded_by === `${standard.name} issue ${standard.issue}`;
  const pinned = useLive(
    shop,
    async () => (isNewest || !sha256 ? null : await shop.files.json(sha256)),
    [sha256, isNewest],
  );
  return (pinned as Standard | null | undefined) ?? standard;
}
