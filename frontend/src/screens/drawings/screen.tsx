import { useEffect, useState } from 'preact/hooks';
import type { PictureView } from '../../domain/place';
import { DeskKey, ErrorFrame, Loading, Sheet, TitleBlock } from '../../furniture';
import { definitionOf } from '../../services/airframe_definition';
import { type AirframeListed, airframeNamed, listAirframes } from '../../services/airframes';
import type { Json, ScreenProps } from '../../services/shop';
import { type Base, useBase, useDraft } from '../airframes/draft';
import { whyNot } from '../airframes/list';
import { partAddress } from '../airframes/parts';
import { DeskIndex } from '../frame/index_fields';
import { useDeskTitle } from '../frame/title';
import type { Trouble } from '../frame/trouble';
import { troubleOf } from '../frame/words';
import { Calibrate } from './calibrate';
import '../airframes/screen.css';
import '../airframes/typed.css';
import './screen.css';

/** A drawing or photograph made a view of an airframe: kept in the draft of its next issue. */
export default function Drawings(props: ScreenProps) {
  const { shop, params, go } = props;
  const title = useDeskTitle(shop, 'Drawing');
  const name = params.airframe ?? '';
  const { found, trouble } = useAirframe(props, name);
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/airframes" go={go} />}
      legend={<DeskKey label="ALL DRAWINGS" onPress={() => go(partAddress(name, 'drawings'))} />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      {found === undefined && !trouble && <Loading what="The airframe" />}
      {found !== undefined && <Based {...props} {...{ name, found }} />}
    </Sheet>
  );
}

function useAirframe({ shop }: ScreenProps, name: string) {
  const [found, setFound] = useState<AirframeListed | null | undefined>(undefined);
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  useEffect(() => {
    if (name === 'new') return setFound(null);
    const none = { what: `The book has no airframe ${name}.`, todo: 'Choose one of the list.' };
    listAirframes(shop.api).then(
      (listed) => {
        const one = airframeNamed(listed, name);
        setFound(one);
        setTrouble(one ? null : none);
      },
      (error) => setTrouble(troubleOf(error)),
    );
  }, [shop, name, shop.session?.person]);
  return { found, trouble };
}

type Named = ScreenProps & { name: string; found: AirframeListed | null };

function Based(props: Named) {
  const { value, problem } = useBase(props.shop, props.found);
  if (problem) return <ErrorFrame title={problem} text="" />;
  return value ? <Drafted {...props} base={value} /> : <Loading what="The definition" />;
}

function Drafted(props: Named & { base: Base }) {
  const { shop, go, name, params } = props;
  const draft = useDraft(shop, name, props.base);
  if (!draft) return <Loading what="The draft of this browser" />;
  const { definition } = definitionOf(draft.description);
  const back = () => go(partAddress(name, 'drawings'));
  if (!definition.structures[0])
    return <ErrorFrame title="There is no structure yet." text="Describe one first." />;
  const view = definition.views.find((one) => one.name === params.view && one.picture);
  if (!view && params.view !== 'new')
    return <ErrorFrame title={`There is no drawing “${params.view}”.`} text="Choose one listed." />;
  const keep = (made: PictureView) => {
    const kept = draft.description.views as unknown as PictureView[];
    const at = kept.findIndex((one) => one.name === view?.name);
    const views = at < 0 ? [...kept, made] : kept.map((one, place) => (place === at ? made : one));
    draft.set({ views: views as unknown as Json[] });
    back();
  };
  return (
    <>
      <h1 class="calibrate-title">{view ? view.title : 'A new drawing'}</h1>
      <Calibrate
        {...{ shop, definition }}
        view={(view as unknown as PictureView | undefined) ?? null}
        whyNot={whyNot(shop)}
        onKeep={keep}
        onBack={back}
      />
    </>
  );
}
