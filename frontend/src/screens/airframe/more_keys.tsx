import { useState } from 'preact/hooks';
import { Key, KeyRow } from '../../furniture';
import type { DefectRow, ScreenProps, Shop } from '../../services/shop';
import { useLight } from '../frame/light';
import { SendKey } from '../frame/send_key';
import { useLive } from '../live';
import { type Looking, METHODS } from './looking';

type Part = 'all' | 'method' | 'survey' | 'instrument' | 'drafts';

export interface MoreKeysProps {
  shop: Shop;
  go: ScreenProps['go'];
  defects: DefectRow[];
  looking: Looking;
  onLooking: (change: Partial<Looking>) => void;
  onClose: () => void;
  run: (work: () => Promise<void>) => void;
}

/** What is set once or twice a day: who, how, with what; drafts to finish; light and hand. */
export function MoreKeys(props: MoreKeysProps) {
  const [part, setPart] = useState<Part>('all');
  const back = () => setPart('all');
  if (part === 'drafts') return <Drafts {...props} onBack={back} />;
  if (part === 'method')
    return (
      <Picked
        label="Method of looking"
        words={[...METHODS]}
        chosen={props.looking.method}
        onPick={(method) => props.onLooking({ method })}
        onBack={back}
      />
    );
  if (part === 'survey') return <Surveys {...props} onBack={back} />;
  if (part === 'instrument') return <Instruments {...props} onBack={back} />;
  return <All {...props} onPart={setPart} />;
}

function All(props: MoreKeysProps & { onPart: (part: Part) => void }) {
  const { shop, go, looking, defects, onLooking, onPart } = props;
  const [light, changeLight] = useLight();
  const drafts = defects.filter((row) => row.state === 'Draft').length;
  const leave = () =>
    props.run(async () => {
      await shop.people.leave();
      go('/');
    });
  return (
    <div class="more-keys">
      <Key
        label={'STILL TO\nFINISH'}
        size="inside"
        second={`${drafts} drafts`}
        unavailable={drafts ? undefined : 'no draft here'}
        onPress={() => onPart('drafts')}
      />
      <SendKey shop={shop} size="inside" />
      <Key label={'CHANGE\nPERSON'} size="inside" second="drafts are kept" onPress={leave} />
      <Key
        label="SURVEY"
        size="inside"
        second={looking.survey ? 'chosen' : 'none chosen'}
        onPress={() => onPart('survey')}
      />
      <Key label="METHOD" size="inside" second={looking.method} onPress={() => onPart('method')} />
      <Key
        label="PAINT"
        size="inside"
        second={looking.paint}
        onPress={() => onLooking({ paint: looking.paint === 'on' ? 'off' : 'on' })}
      />
      <Key
        label={'INSTRU-\nMENT'}
        spoken="Instrument"
        size="inside"
        second={looking.instrument ?? 'not picked'}
        onPress={() => onPart('instrument')}
      />
      <Key label="LIGHT" size="inside" second={light} onPress={changeLight} />
      <Key
        label="HAND"
        size="inside"
        second={looking.hand}
        onPress={() => onLooking({ hand: looking.hand === 'right' ? 'left' : 'right' })}
      />
      <Key label={'DEFECT\nBOOK'} size="inside" onPress={() => go('/defects')} />
      <Key label={'WAITING\nHERE'} size="inside" onPress={() => go('/waiting')} />
      <Key label="BACK" size="inside" second="to the shutter" onPress={props.onClose} />
    </div>
  );
}

function Picked(props: {
  label: string;
  words: string[];
  chosen: string | null;
  onPick: (word: string) => void;
  onBack: () => void;
}) {
  return (
    <div class="choices">
      <KeyRow label={props.label}>
        {props.words.map((word) => (
          <Key
            key={word}
            label={word}
            size="inside"
            place="choice"
            chosen={word === props.chosen}
            onPress={() => {
              props.onPick(word);
              props.onBack();
            }}
          />
        ))}
      </KeyRow>
      <Key label="BACK" second={props.label} onPress={props.onBack} />
    </div>
  );
}

/** Drafts with what each still lacks; a touch goes on with it. */
function Drafts({ shop, defects, go, onBack }: MoreKeysProps & { onBack: () => void }) {
  const drafts = defects.filter((row) => row.state === 'Draft');
  const names = useLive(shop, () => shop.people.names(), []) ?? {};
  return (
    <div class="choices">
      <KeyRow label="Still to finish">
        {drafts.map((row) => (
          <Key
            key={row.record}
            label={row.number ?? ''}
            size="inside"
            place="choice"
            second={[lacks(row), row.raised_by ? names[row.raised_by] : '']
              .filter(Boolean)
              .join('\n')}
            onPress={() => go(`/airframe/${(row.number ?? '').replace('/', '')}`)}
          />
        ))}
      </KeyRow>
      <Key label="BACK" second="drafts" onPress={onBack} />
    </div>
  );
}

function lacks(row: DefectRow): string {
  const missing = [
    row.photographs === 0 ? 'no picture' : '',
    row.kind ? '' : 'no kind',
    row.kind && !row.grade_known ? 'figures' : '',
  ].filter(Boolean);
  return missing.length > 0 ? missing.join(', ') : 'to raise';
}

function Surveys({
  shop,
  looking,
  onLooking,
  run,
  onBack,
}: MoreKeysProps & { onBack: () => void }) {
  const surveys = useLive(shop, () => shop.book.records('survey'), []) ?? [];
  const start = () =>
    run(async () => {
      if (!shop.session) return;
      const survey = await shop.capture.startSurvey(shop.session, {
        title: `SV-${surveys.length + 1}`,
        date: shop.today(),
        method: looking.method,
      });
      onLooking({ survey });
      onBack();
    });
  return (
    <div class="choices">
      <KeyRow label="Survey">
        {surveys.map((one) => (
          <Key
            key={one.record}
            label={String(one.title ?? 'survey')}
            second={String(one.date ?? '')}
            size="inside"
            place="choice"
            chosen={one.record === looking.survey}
            onPress={() => {
              onLooking({ survey: one.record });
              onBack();
            }}
          />
        ))}
        <Key label={'START\nONE'} second="today" size="inside" place="choice" onPress={start} />
      </KeyRow>
      <Key label="BACK" second="surveys" onPress={onBack} />
    </div>
  );
}

/** Instruments of the book; one out of date says so before it is used. */
function Instruments({ shop, looking, onLooking, onBack }: MoreKeysProps & { onBack: () => void }) {
  const instruments = useLive(shop, () => shop.book.records('instrument'), []) ?? [];
  const today = shop.today();
  return (
    <div class="choices">
      {instruments.length === 0 && <p class="offset-read">No instrument is in the book yet.</p>}
      <KeyRow label="Instrument">
        {instruments.map((one) => (
          <Key
            key={one.record}
            label={String(one.name ?? '')}
            second={dueWords(String(one.due ?? ''), today)}
            size="inside"
            place="choice"
            chosen={one.name === looking.instrument}
            onPress={() => {
              onLooking({ instrument: String(one.name ?? '') });
              onBack();
            }}
          />
        ))}
        <Key
          label="NONE"
          second="own rule, indication only"
          size="inside"
          place="choice"
          chosen={looking.instrument === null}
          onPress={() => {
            onLooking({ instrument: null });
            onBack();
          }}
        />
      </KeyRow>
      <Key label="BACK" second="instruments" onPress={onBack} />
    </div>
  );
}

function dueWords(due: string, today: string): string {
  if (due === '') return 'no check date';
  return due < today ? `OUT OF DATE ${due}` : `in date to ${due}`;
}
