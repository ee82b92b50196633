import { useState } from 'preact/hooks';
import { Key, Question } from '../../furniture';
import type { Definition, Json, ScreenProps } from '../../services/shop';
import type { AreaPart } from '../../services/stage_cells';
import type { StageRecord } from '../../services/stages';
import { DayField } from '../frame/day_field';
import { ChoiceField, TextField } from '../frame/fields';
import { TroubleNote, useTrouble } from '../frame/trouble';

/** What is typed: an area of one part, with empty ends where it is not limited. */
export interface Typed {
  title: string;
  scope: string;
  date: string;
  structure: string;
  members: [string, string];
  strakes: [string, string];
  why: string;
}

/** A new stage, or another date or area for one: the lead writes it. */
export function StageForm(props: {
  shop: ScreenProps['shop'];
  /** null: a new one. */
  stage: StageRecord | null;
  titles: string[];
  onBack: () => void;
  onDone: (title: string) => void;
}) {
  const { shop, stage } = props;
  const [typed, setTyped] = useState<Typed>(() => typedOf(stage));
  const { trouble, busy, run } = useTrouble();
  const change = (part: Partial<Typed>) => setTyped({ ...typed, ...part });
  const lacking = lackingWords(typed, stage, props.titles, shop.definition);
  const write = () =>
    run(async () => {
      if (!shop.session || lacking) return;
      const record = stage?.record ?? shop.book.newId();
      const set = setOf(typed, stage, shop.definition);
      const why = typed.why.trim();
      await shop.book.writeAct(shop.session, [
        { record, kind: 'stage', set, ...(why ? { why } : {}) },
      ]);
      props.onDone(typed.title.trim());
    });
  return (
    <Question
      title={stage ? `Change ${stage.title}` : 'New stage'}
      text="Defects name the stage they stand in the way of."
      keys={
        <>
          <Key
            label={stage ? 'WRITE THE CHANGE' : 'WRITE THE STAGE'}
            kind="main"
            unavailable={busy ? 'a moment …' : lacking}
            onPress={write}
          />
          <Key label="Not now" onPress={props.onBack} />
        </>
      }
    >
      <TroubleNote trouble={trouble} />
      <form
        class="stage-form"
        onSubmit={(event) => {
          event.preventDefault();
          write();
        }}
      >
        {!stage && (
          <TextField label="Name" value={typed.title} onText={(title) => change({ title })} />
        )}
        <TextField
          label="What is done at it"
          value={typed.scope}
          onText={(scope) => change({ scope })}
        />
        <DayField label="Date" value={typed.date} onText={(date) => change({ date })} />
        {shop.definition && (
          <AreaLines typed={typed} definition={shop.definition} onChange={change} />
        )}
        {stage && <TextField label="Reason" value={typed.why} onText={(why) => change({ why })} />}
      </form>
    </Question>
  );
}

function AreaLines(props: {
  typed: Typed;
  definition: Definition;
  onChange: (part: Partial<Typed>) => void;
}) {
  const { typed, definition, onChange } = props;
  const { structures } = definition;
  const structure = structures.find((one) => one.name === typed.structure);
  const members = structure?.members.map((one) => one.name) ?? [];
  const strakes = structure?.strakes ?? [];
  const ends = (
    label: string,
    names: string[],
    [from, to]: [string, string],
    put: (ends: [string, string]) => void,
  ) => (
    <>
      <ChoiceField
        label={`From ${label}`}
        value={from}
        names={names}
        empty="the first"
        onText={(name) => put([name, to])}
      />
      <ChoiceField
        label={`To ${label}`}
        value={to}
        names={names}
        empty="the last"
        onText={(name) => put([from, name])}
      />
    </>
  );
  return (
    <>
      <ChoiceField
        label="What it closes"
        value={typed.structure}
        names={structures.map((one) => one.name)}
        empty="nothing: a test"
        onText={(name) => onChange({ structure: name, members: ['', ''], strakes: ['', ''] })}
      />
      {structure && ends('member', members, typed.members, (members) => onChange({ members }))}
      {strakes.length > 0 &&
        ends('strake', strakes, typed.strakes, (strakes) => onChange({ strakes }))}
    </>
  );
}

const ANYWHERE: [string, string] = ['', ''];

/** Of an area of several parts the first is shown; it is written again only where it was changed. */
export function typedOf(stage: StageRecord | null): Typed {
  const [part] = stage && stage.area.length === 1 ? stage.area : [];
  return {
    ...{ title: stage?.title ?? '', scope: stage?.scope ?? '', date: stage?.date ?? '', why: '' },
    structure: part?.structure ?? '',
    members: part?.members ?? ANYWHERE,
    strakes: part?.strakes ?? ANYWHERE,
  };
}

/** What is lacking before it can be written. */
export function lackingWords(
  typed: Typed,
  stage: StageRecord | null,
  titles: readonly string[],
  definition: Definition | null,
): string | undefined {
  const title = typed.title.trim();
  if (!title) return 'a name first';
  if (!stage && titles.includes(title)) return `there is a ${title}`;
  if (!typed.scope.trim()) return 'what is done at it';
  if (!typed.date) return 'a date first';
  if (isTurned(typed, definition)) return 'the area ends before it begins';
  if (stage && Object.keys(setOf(typed, stage, definition)).length === 0) return 'nothing changed';
  return stage && !typed.why.trim() ? 'a reason first' : undefined;
}

/** The fields to be written: all of a new one, of an old one those that differ. */
export function setOf(
  typed: Typed,
  stage: StageRecord | null,
  definition: Definition | null,
): Record<string, Json> {
  const area = areaOf(typed, definition);
  const before = areaOf(typedOf(stage), definition);
  const set: Record<string, Json> = {};
  if (!stage) set.title = typed.title.trim();
  if (typed.scope.trim() !== stage?.scope) set.scope = typed.scope.trim();
  if (typed.date !== stage?.date) set.date = typed.date;
  if (JSON.stringify(area) !== JSON.stringify(before)) set.area = area as unknown as Json;
  return set;
}

/** An end left open is the first or the last there is; both left open are no limit. */
function areaOf({ structure, members, strakes }: Typed, definition: Definition | null) {
  const found = definition?.structures.find((one) => one.name === structure);
  if (!found) return [];
  const names = found.members.map((one) => one.name);
  const part: AreaPart = { structure };
  if (members.some(Boolean)) part.members = ended(members, names);
  if (strakes.some(Boolean)) part.strakes = ended(strakes, found.strakes);
  return [part];
}

function ended([from, to]: [string, string], names: readonly string[]): [string, string] {
  return [from || (names[0] ?? ''), to || (names.at(-1) ?? '')];
}

function isTurned(typed: Typed, definition: Definition | null): boolean {
  const [part] = areaOf(typed, definition);
  const found = definition?.structures.find((one) => one.name === part?.structure);
  const names = found?.members.map((one) => one.name) ?? [];
  const turned = (ends: [string, string] | undefined, all: readonly string[]) =>
    ends !== undefined && all.indexOf(ends[0]) >= all.indexOf(ends[1]);
  return turned(part?.members, names) || turned(part?.strakes, found?.strakes ?? []);
}
