import { useEffect, useState } from 'preact/hooks';
import { ErrorFrame, Loading, Sheet, TitleBlock } from '../../furniture';
import { type AirframeListed, airframeNamed, listAirframes } from '../../services/airframes';
import type { ScreenProps, Shop } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { useDeskTitle } from '../frame/title';
import { troubleOf } from '../frame/words';
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

/** The list of the server; without it the airframes that this browser knows. */
function useListed(shop: Shop) {
  const [listed, setListed] = useState<AirframeListed[] | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const ask = async () => {
    try {
      setListed(await listAirframes(shop.api));
      setProblem(null);
    } catch (error) {
      const known = await shop.places.airframes();
      setProblem(troubleOf(error).what);
      setListed(
        known.map(({ record, type, constructor_number }) => ({
          ...{ record, type, constructor: constructor_number, definition: null },
        })),
      );
    }
  };
  useEffect(() => void ask(), [shop, shop.session?.person]);
  return { listed, problem, again: ask };
}
