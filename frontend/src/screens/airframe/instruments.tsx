import type { ComponentChildren } from 'preact';
import { Key } from '../../furniture';
import type { Shop } from '../../services/shop';
import { useLive } from '../live';
import { dueWords } from './day_parts';
import { type InstrumentWords, instrumentsFor } from './instrument_order';
import type { Looking } from './looking';
import { Picked } from './picked';

/** Instruments of the book, picked once a day; one out of date says so before it is used. */
export function Instruments(props: {
  shop: Shop;
  looking: Looking;
  onLooking: (change: Partial<Looking>) => void;
  onBack: () => void;
  /** The figure it is asked for, before the first of the day: NEXT goes on with none. */
  once?: string | undefined;
  /** TOUCH OFF and UNDO, where it is asked for a figure. */
  ends?: ComponentChildren;
}) {
  const { shop, looking, onLooking, onBack, once } = props;
  const instruments = useLive(shop, () => shop.book.records('instrument'), []) ?? [];
  const today = shop.today();
  const choose = (instrument: string | null) => {
    onLooking({ instrument, instrument_day: today });
    onBack();
  };
  const is_today = looking.instrument_day === today;
  const option = (one: InstrumentWords) => ({
    label: String(one.name ?? ''),
    second: `${one.title ?? ''}\n${dueWords(String(one.due ?? ''), today).replace(/ (?=\S+$)/, '\n')}`,
    chosen: is_today && one.name === looking.instrument,
    onPick: () => choose(String(one.name ?? '')),
  });
  const { suits, others } = instrumentsFor(once, instruments);
  const none = {
    ...{ label: 'NONE', second: 'own rule,\nindication only' },
    chosen: is_today && looking.instrument === null,
    onPick: () => choose(null),
  };
  return (
    <Picked
      label="Instrument"
      back={once ? undefined : 'instruments'}
      onBack={once ? undefined : onBack}
      words={askWords(once, instruments.length)}
      options={once ? suits.map(option) : [...suits.map(option), none]}
      others={{ label: 'Other instruments', options: others.map(option) }}
      ends={props.ends}
      main={once && <WithNone onPress={none.onPick} />}
    />
  );
}

function askWords(once: string | undefined, count: number): string | undefined {
  if (once)
    return 'Which instrument today? Each person is asked once a day; MORE, INSTRUMENT changes it.';
  return count === 0 ? 'No instrument is in the book yet.' : undefined;
}

function WithNone({ onPress }: { onPress: () => void }) {
  return (
    <Key
      label="NEXT ►"
      second="none: own rule, indication only"
      kind="main"
      size="inside"
      letters={28}
      onPress={onPress}
    />
  );
}
