import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { DeskKey, Loading, Sheet, TitleBlock, useKeydown } from '../../furniture';
import type { AirframeListed } from '../../services/airframes';
import type { ScreenProps } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { useDeskTitle } from '../frame/title';
import { About } from './about';
import { Access } from './access';
import { type Base, type Draft, useChecked, useDraft } from './draft';
import { Drawing } from './drawing';
import { Drawings } from './drawings';
import { Issue } from './issue';
import { useLed } from './led';
import { whyNot } from './list';
import { Members } from './members';
import {
  nextPart,
  PART_WORDS,
  PARTS,
  type PlacedTrouble,
  partAddress,
  partWords,
  placed,
} from './parts';
import { inPlainWords } from './plain_words';
import { Strakes } from './strakes';
import { Structures } from './structures';
import { Troubles } from './troubles';
import { Zones } from './zones';

export interface PartProps extends ScreenProps {
  name: string;
  found: AirframeListed | null;
  draft: Draft;
  structure: number;
  troubles: readonly PlacedTrouble[];
  checked: ReturnType<typeof useChecked>;
  /** The line that is typed in, so that the drawing shows it. */
  line: number;
  onLine: (row: number) => void;
  /** How often somebody was led to a trouble, and the act that leads to its cell. */
  led: number;
  onLead: (trouble: PlacedTrouble) => void;
  /** Reads the list of airframes anew. */
  onIssued: () => Promise<void>;
}

const BODIES: Record<string, (props: PartProps) => preact.ComponentChildren> = {
  ...{ about: About, structures: Structures, members: Members, strakes: Strakes },
  ...{ zones: Zones, access: Access, drawings: Drawings, issue: Issue },
};

/** One airframe being described: its drawing, its parts, and what stands in the way of an issue. */
export function Described(
  props: ScreenProps & {
    name: string;
    found: AirframeListed | null;
    base: Base;
    onIssued: () => Promise<void>;
  },
) {
  const { shop, go, name, found } = props;
  const part = BODIES[props.params.part ?? ''] ? (props.params.part as string) : 'about';
  const draft = useDraft(shop, name, props.base);
  const checked = useChecked(shop, draft, found?.record ?? null);
  const [line, setLine] = useState(0);
  useEffect(() => setLine(0), [part]);
  // Whoever turns the page by a key goes on typing there.
  const by_key = useRef(false);
  useLayoutEffect(() => {
    if (by_key.current)
      document.querySelector<HTMLElement>('.part-typed :is(input, textarea)')?.focus();
    by_key.current = false;
  }, [part]);
  const title = useDeskTitle(shop, part === 'about' ? 'Airframe' : `Airframe, ${part}`);
  const structure = structureShown(draft, props.params.structure);
  const shown = draft?.description.structures[structure]?.name ?? '';
  useKeydown((event) => {
    if (event.key !== 'PageDown' && event.key !== 'PageUp') return;
    event.preventDefault();
    by_key.current = true;
    go(partAddress(name, nextPart(part, event.key === 'PageDown' ? 1 : -1), shown));
  });
  const troubles = useTroubles(draft, checked);
  const { led, lead } = useLed({ part, structure }, (one) =>
    go(troubleAddress(name, one, draft, structure), one.part === part ? 'replace' : undefined),
  );
  const body = draft && {
    ...{ ...props, draft, structure, troubles, checked, line, onLine: setLine, led, onLead: lead },
  };
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/airframes" go={go} />}
      legend={<Legend draft={draft} go={go} />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {body ? <Page {...body} part={part} /> : <Loading what="The draft of this browser" />}
    </Sheet>
  );
}

/** The part that a trouble is in, with its own structure where it has one. */
function troubleAddress(name: string, one: PlacedTrouble, draft: Draft | null, shown: number) {
  const structure = draft?.description.structures[one.structure ?? shown]?.name;
  return partAddress(name, one.part, structure);
}

function structureShown(draft: Draft | null, wanted: string | undefined): number {
  const at = draft?.description.structures.findIndex((one) => one.name === wanted) ?? 0;
  return Math.max(at, 0);
}

/** What the cells themselves say comes first; then what the server says of the whole. */
function useTroubles(draft: Draft | null, checked: ReturnType<typeof useChecked>): PlacedTrouble[] {
  return useMemo(() => {
    if (!draft) return [];
    const all = [...(checked.defined?.troubles ?? []), ...(checked.checked?.troubles ?? [])];
    return all.map((one) => placed(draft.description, inPlainWords(one, draft.description)));
  }, [draft?.description, checked.defined, checked.checked]);
}

function Legend({ draft, go }: { draft: Draft | null; go: ScreenProps['go'] }) {
  return (
    <div class="described-legend">
      <DeskKey label="ALL AIRFRAMES" onPress={() => go('/airframes')} />
      <DeskKey
        label="UNDO"
        kind="undo"
        second={draft?.undo ? 'the last thing typed' : undefined}
        unavailable={draft?.undo ? undefined : 'nothing typed here'}
        onPress={() => draft?.undo?.()}
      />
    </div>
  );
}

function Page(props: PartProps & { part: string }) {
  const { draft, structure, part, checked, line, name, troubles } = props;
  const definition = checked.defined?.definition;
  const shown = definition?.structures[structure];
  const Body = BODIES[part] as (props: PartProps) => preact.ComponentChildren;
  const typed = draft.description;
  const zones = checked.checked?.zones ?? { gaps: [], overlaps: [] };
  const words = partWords(typed, structure, {
    ...{
      troubles,
      waiting: checked.waiting,
      gaps: zones.gaps.length,
      overlaps: zones.overlaps.length,
      in_book: draft.is_draft ? null : (props.found?.definition?.issue ?? null),
    },
  });
  return (
    <div class="described">
      <Head {...props} />
      {shown && definition && (
        <Drawing
          {...{ definition, structure: shown }}
          station={
            part === 'members' ? stationOf(typed.structures[structure]?.members[line]) : null
          }
          zoned={['zones', 'access', 'issue', 'drawings', 'about'].includes(part)}
          zone={part === 'zones' ? (typed.zones[line]?.zone?.trim() ?? null) : null}
        />
      )}
      <nav class="part-cells" aria-label="Parts of the description">
        {PARTS.map((one) => (
          <a
            key={one}
            href={partAddress(name, one, typed.structures[structure]?.name)}
            class={one === part ? 'part-cell open' : 'part-cell'}
            aria-current={one === part ? 'page' : undefined}
          >
            <span class="cap">{PART_WORDS[one]}</span>
            <span class="part-value">{words[one]}</span>
          </a>
        ))}
      </nav>
      <div class="part-body">
        <section class="part-typed" aria-label={PART_WORDS[part]}>
          <Body {...props} />
        </section>
        <Troubles {...props} />
      </div>
    </div>
  );
}

function stationOf(row: { station?: string } | undefined): number | null {
  const text = row?.station?.trim() ?? '';
  return text === '' || Number.isNaN(Number(text)) ? null : Number(text);
}

function sentence(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}; nothing is changed since`;
}

/** What is described, as which issue, and whether it is in the book yet. */
function Head(props: PartProps) {
  const { draft, found, structure, name, go, shop } = props;
  const { description } = draft;
  const issue = found?.definition?.issue;
  const stands = issue ? `issue ${issue} is in the book` : 'not in the book';
  const words = draft.is_draft
    ? `draft of issue ${description.issue || '–'} in this browser; ${stands}`
    : found
      ? stands
      : 'a new airframe; it is in the book once it is issued';
  const open = (structure_name: string) =>
    go(partAddress(name, props.params.part ?? 'about', structure_name), 'replace');
  return (
    <header class="described-head">
      <h1>
        {[description.constructor_number, description.name].filter(Boolean).join(' · ') ||
          'New airframe'}
      </h1>
      <p>
        {draft.is_draft || !issue ? words : <b>{sentence(words)}</b>}
        {whyNot(shop) && ` · ${whyNot(shop)}`}
        {draft.overtaken && <b> · the book has a newer issue than this draft began from</b>}
      </p>
      {description.structures.length > 1 && (
        <label class="structure-shown">
          <span class="cap">Structure</span>
          <select
            aria-label="Structure shown"
            value={String(structure)}
            onChange={(event) =>
              open(description.structures[Number(event.currentTarget.value)]?.name ?? '')
            }
          >
            {description.structures.map((one, at) => (
              <option key={`${at} ${one.name}`} value={String(at)}>
                {one.name || `line ${at + 1}`}
              </option>
            ))}
          </select>
        </label>
      )}
    </header>
  );
}
