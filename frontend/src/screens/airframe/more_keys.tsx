import { useState } from 'preact/hooks';
import { Key } from '../../furniture';
import type { DefectRow, Definition, Place, ScreenProps, Shop } from '../../services/shop';
import { useLight } from '../frame/light';
import { SendKey } from '../frame/send_key';
import { bayOf, bayWords, noBayWords } from './bay';
import { READING } from './begun';
import { Surveys } from './day_parts';
import { HAND_WORDS } from './hands';
import { HowLooked } from './how_looked';
import { Instruments } from './instruments';
import { LookAgain, toLookAgain } from './look_again';
import { writeLook } from './looked_key';
import { type Looking, METHODS, PAINT_WORDS, PAINTS, type Paint } from './looking';
import { lastOnOneHand, OtherHand, WRONG_HAND } from './other_hand';
import { Picked } from './picked';
import { StillToFinish, toFinish } from './still_to_finish';
import type { Structure } from './window';

type Part =
  | 'all'
  | 'again'
  | 'finish'
  | 'hand'
  | 'blocked'
  | 'survey'
  | 'method'
  | 'how'
  | 'instrument'
  | 'tablet';

export interface MoreKeysProps {
  shop: Shop;
  go: ScreenProps['go'];
  definition: Definition;
  structure: Structure;
  place: Place;
  defects: DefectRow[];
  is_read: boolean;
  looking: Looking;
  onLooking: (change: Partial<Looking>) => void;
  onPlace: (place: Place) => void;
  onKeySize: () => void;
  onClose: () => void;
  /** The part that was asked for; nothing: all. */
  first?: Part | null;
  run: (work: () => Promise<void>) => void;
}

/** Why a bay could not be looked at. */
const BLOCKED = ['too narrow', 'tank', 'floor down', 'panel on', 'lining', 'too dirty'];

/** What is set once or twice a day: who, how, with what; what is to be put right; the tablet. */
export function MoreKeys(props: MoreKeysProps) {
  const { shop, definition, defects, looking, onLooking } = props;
  const [part, setPart] = useState<Part>(props.first ?? 'all');
  const back = () => setPart('all');
  const person = shop.session?.person;
  if (part === 'finish')
    return <StillToFinish {...props} rows={toFinish(defects, person)} onBack={back} />;
  if (part === 'again')
    return (
      <LookAgain
        rows={toLookAgain(defects, props.shop.device?.letter ?? null)}
        go={props.go}
        onPlace={props.onPlace}
        onBack={back}
      />
    );
  if (part === 'hand')
    return <OtherHand {...props} rows={lastOnOneHand(defects, person, definition)} onBack={back} />;
  if (part === 'blocked') return <Blocked {...props} onBack={back} />;
  if (part === 'survey') return <Surveys {...props} onBack={back} />;
  if (part === 'instrument') return <Instruments {...props} onBack={back} />;
  if (part === 'tablet') return <Tablet {...props} onBack={back} />;
  const bay = bayOf(props.structure, props.place);
  if (part === 'how' && bay) return <HowLooked {...props} bay={bay} />;
  if (part === 'method')
    return (
      <Picked
        label="Method of looking"
        back="method"
        onBack={back}
        options={METHODS.map((method) => ({
          label: method,
          chosen: method === looking.method,
          onPick: () => {
            onLooking({ method });
            back();
          },
        }))}
      />
    );
  return <All {...props} onPart={setPart} />;
}

function All(props: MoreKeysProps & { onPart: (part: Part) => void }) {
  const { shop, go, definition, looking, defects, is_read, onLooking, onPart } = props;
  const [light, changeLight] = useLight();
  const person = shop.session?.person;
  const finish = toFinish(defects, person).length;
  const again = toLookAgain(defects, props.shop.device?.letter ?? null).length;
  const movable = lastOnOneHand(defects, person, definition);
  const bay = bayOf(props.structure, props.place);
  const paint = PAINTS[(PAINTS.indexOf(looking.paint as Paint) + 1) % PAINTS.length] ?? 'on';
  const is_today = looking.instrument_day === shop.today();
  const leave = () =>
    props.run(async () => {
      await shop.people.leave();
      go('/');
    });
  const keys = [
    {
      label: 'STILL TO\nFINISH',
      second: `${finish} record${finish === 1 ? '' : 's'}`,
      unavailable: finish > 0 ? undefined : is_read ? 'nothing lacks here' : READING,
      onPress: () => onPart('finish'),
    },
    {
      label: 'LOOK\nAGAIN',
      second: `${again} asked`,
      unavailable: again > 0 ? undefined : is_read ? 'nothing is asked' : READING,
      onPress: () => onPart('again'),
    },
    {
      label: movable[0]?.hand === 'S' ? 'MOVE TO\nPORT' : 'MOVE TO\nSTBD',
      second: movedWords(movable),
      unavailable: movable.length > 0 ? undefined : is_read ? 'nothing of yours to move' : READING,
      onPress: () => onPart('hand'),
    },
    {
      label: 'BAY\nBLOCKED',
      second: bay ? bayWords(bay) : undefined,
      unavailable: bay ? undefined : noBayWords(props.structure, props.place),
      onPress: () => onPart('blocked'),
    },
    {
      label: 'SURVEY',
      second: looking.survey ? 'chosen' : 'none chosen',
      onPress: () => onPart('survey'),
    },
    {
      label: 'METHOD',
      second: looking.method ?? 'not said today',
      onPress: () => onPart('method'),
    },
    {
      label: 'PAINT',
      second: `${PAINT_WORDS[looking.paint ?? ''] ?? 'not said today'}\nnext: ${paint}`,
      onPress: () => onLooking({ paint }),
    },
    {
      label: 'INSTRU\u00adMENT',
      second: is_today ? (looking.instrument ?? 'none') : 'not picked today',
      onPress: () => onPart('instrument'),
    },
    { label: 'LIGHT', second: `${light} now`, onPress: changeLight },
    { label: 'CHANGE\nPERSON', second: 'drafts are kept', onPress: leave },
    { label: 'TABLET', second: 'send, book, keys', onPress: () => onPart('tablet') },
    { label: 'BACK', second: 'to the shutter', onPress: props.onClose },
  ];
  return (
    <div class="more-keys">
      {keys.map((key) => (
        <Key key={key.label} size="inside" {...key} />
      ))}
    </div>
  );
}

/** "D/0003 and 2 more,\nfrom starboard": only what lies on the other hand. */
export function movedWords(rows: readonly DefectRow[]): string {
  const [first] = rows;
  if (!first) return WRONG_HAND;
  const more = rows.length > 1 ? ` and ${rows.length - 1} more` : '';
  return `${first.number}${more},\nnow ${(HAND_WORDS[first.hand ?? ''] ?? '').toLowerCase()}`;
}

/** The bay was not looked at, and why. */
function Blocked(props: MoreKeysProps & { onBack: () => void }) {
  const { shop, looking, run, onClose } = props;
  const bay = bayOf(props.structure, props.place);
  return (
    <Picked
      label="Why the bay could not be looked at"
      back="the bay stays as it was"
      onBack={props.onBack}
      words={`${bay ? bayWords(bay) : ''}: why could it not be looked at?`}
      options={BLOCKED.map((reason) => ({
        label: reason,
        onPick: () =>
          run(async () => {
            if (bay) await writeLook(shop, bay, looking, reason);
            onClose();
          }),
      }))}
    />
  );
}

/** What belongs to the tablet rather than to the job. */
function Tablet(props: MoreKeysProps & { onBack: () => void }) {
  const { shop, go, looking, onLooking } = props;
  return (
    <div class="more-keys">
      <SendKey shop={shop} size="inside" />
      <Key
        label={'TAKE\nALONG'}
        size="inside"
        second="to the airframe"
        onPress={() => go('/take')}
      />
      <Key label={'WAITING\nHERE'} size="inside" onPress={() => go('/waiting')} />
      <Key label={'KEY\nSIZE'} size="inside" second="by a bank card" onPress={props.onKeySize} />
      <Key
        label="THUMB"
        size="inside"
        second={`${looking.hand} hand now`}
        onPress={() => onLooking({ hand: looking.hand === 'right' ? 'left' : 'right' })}
      />
      <Key label="BACK" size="inside" onPress={props.onBack} />
    </div>
  );
}
