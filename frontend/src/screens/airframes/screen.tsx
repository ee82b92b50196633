import { useEffect, useState } from 'preact/hooks';
import { ErrorFrame, Loading, Sheet, TitleBlock } from '../../furniture';
import { type AirframeListed, airframeNamed, listAirframes } from '../../services/airframes';
import type { Airframe, ScreenProps, Shop } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { useDeskTitle } from '../frame/title';
import { troubleOf } from '../frame/words';
import { useLive } from '../live';
import { Described } from './described';
import { useBase } from './draft';
import { AirframeList } from './list';
import './screen.css';
import './typed.css';

/** The airframes of the book, and the description of one of them, part by part. */
export default function Airframes(props: ScreenProps) {
  const { shop, params, go } = props;
  const { listed, problem, again } = useListed(shop);
  const name = params.airframe;
  if (name === undefined)
    return (
      <Plain {...props} sheet="Airframes">
        <AirframeList {...{ shop, go, listed, problem }} />
      </Plain>
    );
  if (!listed)
    return (
      <Plain {...props} sheet="Airframe">
        {problem ? <ErrorFrame title={problem} text="" /> : <Loading what="The airframe" />}
      </Plain>
    );
  const found = name === 'new' ? null : airframeNamed(listed, name);
  if (found === undefined)
    return (
      <Plain {...props} sheet="Airframe">
        <ErrorFrame title={`The book has no airframe ${name}.`} text="Choose one of the list." />
      </Plain>
    );
  return <One {...props} {...{ name, found }} key={name} onIssued={again} />;
}

function One(
  props: ScreenProps & {
    name: string;
    found: AirframeListed | null;
    onIssued: () => Promise<void>;
  },
) {
  const { value, problem } = useBase(props.shop, props.found);
  if (!value)
    return (
      <Plain {...props} sheet="Airframe">
        {problem ? <ErrorFrame title={problem} text="" /> : <Loading what="The definition" />}
      </Plain>
    );
  return <Described {...props} base={value} />;
}

function Plain(props: ScreenProps & { sheet: string; children: preact.ComponentChildren }) {
  const { shop, go, sheet, children } = props;
  const title = useDeskTitle(shop, sheet);
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/airframes" go={go} />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {children}
    </Sheet>
  );
}

/** The list of the server; without it, or before it, the airframes that this browser knows. */
function useListed(shop: Shop) {
  const [asked, setAsked] = useState<AirframeListed[] | null>(null);
  const [refused, setRefused] = useState<string | null>(null);
  const known = useLive(shop, () => shop.places.airframes(), []);
  const is_online = shop.session?.online === true;
  const ask = async () => {
    try {
      setAsked(await listAirframes(shop.api));
      setRefused(null);
    } catch (error) {
      setRefused(troubleOf(error).what);
    }
  };
  // A sign-in is known to the server some moments after it is known here.
  useEffect(() => {
    if (is_online) void ask();
  }, [shop, shop.session?.person, is_online]);
  const problem = is_online ? refused : 'The server is not in reach.';
  const is_waiting = known === undefined || (is_online && asked === null && refused === null);
  return { listed: is_waiting ? null : together(asked ?? [], known), problem, again: ask };
}

/** What the server lists, and what came to this browser since. */
function together(asked: AirframeListed[], known: readonly Airframe[]): AirframeListed[] {
  const others = known.filter(({ record }) => !asked.some((one) => one.record === record));
  return [
    ...asked,
    ...others.map(({ record, type, constructor_number }) => ({
      ...{ record, type, constructor: constructor_number, definition: null },
    })),
  ];
}
