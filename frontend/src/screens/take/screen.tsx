import { useMemo, useState } from 'preact/hooks';
import { announce, ErrorFrame, Key, KeyRow, Loading, Sheet, TitleBlock } from '../../furniture';
import { ofAirframe } from '../../services/figures';
import { looksHere } from '../../services/of_airframe';
import type { Copies, ScreenProps, Shop, TakeState } from '../../services/shop';
import { awake } from '../frame/awake';
import { useAirframeTitle, useStatus } from '../frame/title';
import { useLive } from '../live';
import { zoneViews } from '../reports/patches';
import { ZoneDrawing } from '../reports/zone_drawing';
import { zoneRows } from '../reports/zones';
import { HereTable } from './here';
import { useNeeds, usePeopleHere, useTake } from './needs';
import { COPY_WORDS, stepWords, zoneNames } from './words';
import { ZoneKeys } from './zone_keys';
import { useChosen } from './zones_chosen';
import './screen.css';

/** Take to the airframe: what is here, how old, what is not, and one key that fetches it. */
export default function TakeScreen({ shop, go }: ScreenProps) {
  const title = useAirframeTitle(shop);
  const state = useTake(shop);
  const [chosen, choose] = useChosen(shop);
  const [copies, setCopies] = useState<Copies>(state.taken?.copies ?? 'small');
  return (
    <Sheet
      layout="airframe"
      title={<TitleBlock variant="airframe" cells={title} />}
      keys={<Keys {...{ shop, go, state, chosen, copies }} onCopies={setCopies} />}
    >
      <div class="take">
        <h1>Take to the airframe</h1>
        {state.problem && <ErrorFrame title="Not all of it is here" text={state.problem} />}
        <Chosen {...{ shop, state, chosen, copies }} onChoose={choose} />
      </div>
    </Sheet>
  );
}

function Keys(props: {
  shop: Shop;
  go: ScreenProps['go'];
  state: TakeState;
  chosen: readonly string[];
  copies: Copies;
  onCopies: (copies: Copies) => void;
}) {
  const { shop, go, state, chosen, copies, onCopies } = props;
  const line = useStatus(shop);
  const other = copies === 'small' ? 'all' : 'small';
  const pictures = chosen.length > 0 ? `photographs of ${zoneNames(chosen)}` : 'no photographs';
  const take = async () => {
    const { problem } = await awake(() => shop.take.take(chosen, copies));
    announce(problem ?? `Taken: log, drawings, ${pictures}.`);
  };
  return (
    <KeyRow>
      <Key
        label="TAKE TO THE AIRFRAME"
        kind="main"
        size="inside"
        letters={28}
        place="take-key"
        second={`log, drawings, ${pictures}`}
        unavailable={state.running ? stepWords(state) : undefined}
        onPress={() => void take()}
      />
      {state.running ? (
        <Key label="STOP" size="inside" second="what came stays" onPress={() => shop.take.stop()} />
      ) : (
        <Key
          label="PICTURES"
          size="inside"
          second={`${COPY_WORDS[copies]}\nnext: ${COPY_WORDS[other]}`}
          onPress={() => onCopies(other)}
        />
      )}
      {line?.kept === false && (
        <Key
          label={'KEEP THIS\nSTORE'}
          size="inside"
          second="asks the browser"
          onPress={() => void shop.status.askToKeep()}
        />
      )}
      <Key label={'WAITING\nHERE'} size="inside" onPress={() => go('/waiting')} />
      <Key label="AIRFRAME" size="inside" onPress={() => go('/airframe')} />
    </KeyRow>
  );
}

/** The drawings with the zones, and the table of what is here. */
function Chosen(props: {
  shop: Shop;
  state: TakeState;
  chosen: readonly string[];
  copies: Copies;
  onChoose: (zone: string) => void;
}) {
  const { shop, state, chosen, copies, onChoose } = props;
  const { definition } = shop;
  const line = useStatus(shop);
  const people = usePeopleHere(shop);
  const every = useLive(shop, () => shop.book.defects(), []);
  const coverage = useLive(shop, () => looksHere(shop), [shop.airframe?.record]);
  const rows = every && ofAirframe(every, shop.airframe);
  const zones = useMemo(
    () => definition && rows && coverage && zoneRows(definition, rows, coverage),
    [every, coverage, definition],
  );
  const { need, needs } = useNeeds(shop, chosen, copies, [every, state.running, state.done]);
  const records = every?.length ?? 0;
  const here = <HereTable {...{ shop, line, chosen, copies, need, people, records }} />;
  if (!definition) return here;
  if (!zones) return <Loading what="The zones" />;
  return (
    <>
      {here}
      <ZoneKeys {...{ zones, needs, chosen, onChoose }} />
      <div class="take-drawings">
        {zoneViews(definition).map((view) => (
          <div key={view.name}>
            <ZoneDrawing {...{ view, definition, zones, chosen, onChoose }} />
          </div>
        ))}
      </div>
    </>
  );
}
