import { KINDS } from '../../domain/kinds';
import { stateWords } from '../../domain/moves';
import { byNature } from '../../domain/values';
import type { DefectRow } from '../../services/shop';

/** Words that a filter key writes into the find line, in groups of which one holds at a time. */
export interface FilterGroup {
  title: string;
  filters: Filter[];
}

export interface Filter {
  label: string;
  /** What stands in the find line: "stage 3". */
  words: string;
}

const OPEN_STATES = ['Raised', 'Assessed', 'In work', 'Offered', 'Deferred'] as const;
const REST = ['Draft', 'Cleared', 'Same as', 'Raised in error'] as const;

/** The filters that this book has a use for. */
export function filterGroups(rows: readonly DefectRow[], me: string | null): FilterGroup[] {
  const states = ['open', ...[...OPEN_STATES, ...REST].map((state) => stateWords(state))];
  const grades = ['≥3', '≥2', ...[4, 3, 2, 1, 0].map((grade) => `grade ${grade}`)];
  return [
    { title: 'State', filters: states.map(plain) },
    { title: 'Grade', filters: grades.map((words) => ({ label: gradeLabel(words), words })) },
    { title: 'Stage', filters: values(rows, ({ stage }) => [stage]).map(plain) },
    { title: 'Zone', filters: values(rows, ({ zones }) => zones).map(zoneOf) },
    { title: 'Kind', filters: values(rows, ({ kind }) => [kind]).map(kindOf) },
    {
      title: 'Asked',
      filters: [
        { label: 'Two values', words: 'two values' },
        ...(me ? [{ label: 'Mine', words: me }] : []),
      ],
    },
  ];
}

const plain = (words: string): Filter => ({
  label: words.slice(0, 1).toUpperCase() + words.slice(1),
  words: words.toLowerCase(),
});
const zoneOf = (zone: string): Filter => ({ label: zone, words: `zone ${zone}` });
const kindOf = (kind: string): Filter => {
  const label = KINDS[kind]?.label ?? kind;
  return { label, words: label.toLowerCase() };
};
const gradeLabel = (words: string) =>
  words.startsWith('≥') ? `Grade ${words.slice(1)} and worse` : plain(words).label;

function values(
  rows: readonly DefectRow[],
  of: (row: DefectRow) => readonly (string | null)[],
): string[] {
  const found = new Set(rows.flatMap((row) => of(row).filter((one) => one !== null)));
  return [...found].sort(byNature);
}

/** The filters whose words stand in the find line, the longest that fits first. */
export function chosenFilters(words: string, groups: readonly FilterGroup[]): Filter[] {
  return spansOf(words, groups).map(({ filter }) => filter);
}

/** The find line after a filter key: its words taken out, or put in for others of its group. */
export function toggled(words: string, filter: Filter, groups: readonly FilterGroup[]): string {
  const group = groups.find(({ filters }) => filters.includes(filter));
  const spans = spansOf(words, groups);
  const isChosen = spans.some((span) => span.filter === filter);
  const gone = spans.filter(({ filter: one }) => group?.filters.includes(one));
  const left = without(words, gone);
  return isChosen ? left : `${left} ${filter.words}`.trim();
}

interface Span {
  filter: Filter;
  from: number;
  to: number;
}

function spansOf(words: string, groups: readonly FilterGroup[]): Span[] {
  const tokens = tokensOf(words);
  const known = new Map(
    groups.flatMap(({ filters }) => filters).map((one) => [one.words.toLowerCase(), one]),
  );
  const spans: Span[] = [];
  for (let from = 0; from < tokens.length; ) {
    const to = longest(tokens, from, known);
    const filter = known.get(tokens.slice(from, to).join(' ').toLowerCase());
    if (filter) spans.push({ filter, from, to });
    from = to;
  }
  return spans;
}

function longest(tokens: string[], from: number, known: ReadonlyMap<string, Filter>): number {
  for (let to = tokens.length; to > from; to--)
    if (known.has(tokens.slice(from, to).join(' ').toLowerCase())) return to;
  return from + 1;
}

function without(words: string, spans: readonly Span[]): string {
  const gone = (at: number) => spans.some(({ from, to }) => from <= at && at < to);
  return tokensOf(words)
    .filter((_, at) => !gone(at))
    .join(' ');
}

/** Words as typed; "quoted words" stay together. */
function tokensOf(words: string): string[] {
  return words.match(/"[^"]*"?|[^\s"]+/g) ?? [];
}
