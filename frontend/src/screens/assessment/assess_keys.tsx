import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { DeskKey, Key, KeyRow, Question } from '../../furniture';
import { othersFor, reasonOf, type Suggestion, suggestionsFor } from '../../services/assessment';
import type { DefectRow, Json, ScreenProps } from '../../services/shop';
import { useOverruled } from '../defects/decided_lines';
import { Field } from '../frame/fields';
import { TroubleNote, useTrouble } from '../frame/trouble';

/** One touch for the disposition, one to assess: what is suggested stands first, none is set. */
export function AssessKeys(props: {
  shop: ScreenProps['shop'];
  row: DefectRow;
  proposed: string | null;
  stages: string[];
}) {
  const { shop, row, proposed } = props;
  const [disposition, setDisposition] = useState<string | null>(null);
  const suggested_reason = reasonOf(row, useOverruled(shop, row));
  const [typed, setReason] = useState<string | null>(null);
  const reason = typed ?? suggested_reason;
  const [stage, setStage] = useState(row.stage);
  const { trouble, busy, run } = useTrouble();
  useEffect(() => setReason(null), [row.record]);
  const suggested = suggestionsFor(row, proposed);
  const assess = () =>
    run(async () => {
      if (!shop.session || disposition === null) return;
      const set: Record<string, Json> = { disposition, reason: reason.trim() };
      if (stage && stage !== row.stage) set.stage = stage;
      await shop.moves.makeMove(shop.session, row.record, 'assess', { set });
    });
  return (
    <Question
      title="Assess"
      text={suggested.length > 0 ? 'Suggested, never set:' : 'Nothing is suggested.'}
      keys={
        <Key
          label={`ASSESS ${row.number}`}
          kind="main"
          second={disposition ?? undefined}
          unavailable={unavailableWords(disposition, reason, busy)}
          onPress={assess}
        />
      }
    >
      <TroubleNote trouble={trouble} />
      <div class="assess">
        <Dispositions
          suggested={suggested}
          others={othersFor(row, suggested)}
          chosen={disposition}
          onChoose={setDisposition}
        >
          <StageKey stage={stage} stages={props.stages} onStage={setStage} />
        </Dispositions>
        <Field label="Reason">
          <textarea
            rows={2}
            value={reason}
            onInput={(event) => setReason(event.currentTarget.value)}
          />
        </Field>
      </div>
    </Question>
  );
}

function unavailableWords(disposition: string | null, reason: string, busy: boolean) {
  if (busy) return 'a moment …';
  if (disposition === null) return 'choose a disposition';
  return reason.trim() ? undefined : 'a reason first';
}

function Dispositions(props: {
  suggested: Suggestion[];
  others: string[];
  chosen: string | null;
  onChoose: (disposition: string) => void;
  children: ComponentChildren;
}) {
  const { suggested, others, chosen } = props;
  const [isWide, setWide] = useState(suggested.length === 0);
  const shown = isWide ? others : others.filter((one) => one === chosen);
  return (
    <KeyRow apart="desk" label="Disposition">
      {suggested.map(({ disposition, basis }) => (
        <DeskKey
          key={disposition}
          label={disposition}
          second={basis}
          chosen={disposition === chosen}
          onPress={() => props.onChoose(disposition)}
        />
      ))}
      {shown.map((disposition) => (
        <DeskKey
          key={disposition}
          label={disposition}
          chosen={disposition === chosen}
          onPress={() => props.onChoose(disposition)}
        />
      ))}
      {!isWide && others.length > 0 && (
        <DeskKey label="Others" second={`${others.length} more`} onPress={() => setWide(true)} />
      )}
      {props.children}
    </KeyRow>
  );
}

/** The stage it blocks; each touch takes the next one. */
function StageKey(props: {
  stage: string | null;
  stages: string[];
  onStage: (stage: string) => void;
}) {
  const { stage, stages } = props;
  if (stages.length === 0) return null;
  const next = stages[(stages.indexOf(stage ?? '') + 1) % stages.length] ?? '';
  return (
    <DeskKey
      label={stage ? `Blocks ${stage}` : 'No stage yet'}
      second={next === stage ? 'the only stage' : `touch for ${next}`}
      onPress={() => props.onStage(next)}
    />
  );
}
