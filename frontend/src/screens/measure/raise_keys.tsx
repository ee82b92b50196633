import { useState } from 'preact/hooks';
import type { Pair } from '../../domain/pairs';
import { Key } from '../../furniture';
import type { DefectRow, Json, PhotographRole, ScreenProps, Shop } from '../../services/shop';
import { HAND_WORDS, opposite } from '../airframe/hands';
import { WRONG_HAND } from '../airframe/other_hand';
import { CameraInput, useCamera } from '../frame/camera';
import type { Answers } from './answers';
import { EndKeys, type Ends } from './end_keys';
import { cautionsOf } from './graded';
import { LookedAgain } from './looked_again';

const NO_PICTURE = ['too dark', 'no room for a camera', 'wet or greasy'];

export interface RaiseKeysProps extends Ends {
  shop: Shop;
  row: DefectRow;
  answers: Answers;
  pairs: readonly Pair[];
  go: ScreenProps['go'];
}

/** The last keys of a record: what it may be the same as, cautions, and Raise. */
export function RaiseKeys(props: RaiseKeysProps) {
  const { shop, row, answers, go, undo } = props;
  const { values, run } = answers;
  const [in_full, setInFull] = useState(false);
  const bare = row.photographs === 0 && !values.no_photograph;
  const address = `/airframe/${(row.number ?? '').replace('/', '')}`;
  const camera = useCamera(
    shop,
    (taken) => go(`${address}/photograph/${taken.photograph}`),
    (error) => void run(() => Promise.reject(error)),
  );
  const take = () => {
    const role: PhotographRole = row.photographs === 0 ? 'wide' : 'close';
    camera.open({ record: row.record, number: row.number ?? '', role, mirrored: false });
  };
  return (
    <div class="raise-keys">
      <CameraInput camera={camera} />
      <LookedAgain {...{ shop, row, answers }} measured={undo.unavailable === undefined} />
      <Same pairs={props.pairs} row={row} />
      <Cautions values={values} in_full={in_full} onTurn={() => setInFull(!in_full)} />
      {bare && <NoPicture {...props} />}
      <div class="raise-also">
        <Key
          label={row.photographs === 0 ? 'TAKE A PICTURE' : 'ONE MORE PICTURE'}
          second={row.photographs === 1 ? 'close' : undefined}
          size="inside"
          onPress={take}
        />
        <HandKey {...props} />
      </div>
      <div class="raise-last">
        <EndKeys {...props} />
        <LastKey {...props} bare={bare} />
      </div>
    </div>
  );
}

/** Raise a draft; a record that is raised already leads back to the airframe. */
function LastKey({ shop, row, answers, go, bare }: RaiseKeysProps & { bare: boolean }) {
  const raise = () =>
    void answers.run(async () => {
      if (shop.session) await shop.moves.raise(shop.session, row.record);
      go(`/airframe?raised=${row.number}`);
    });
  if (row.state !== 'Draft')
    return (
      <Key
        label="TO THE AIRFRAME"
        kind="main"
        letters={28}
        size="inside"
        second={row.state ?? undefined}
        onPress={() => go('/airframe')}
      />
    );
  return (
    <Key
      label={`RAISE ${row.number}`}
      kind="main"
      letters={28}
      size="inside"
      second={row.grade_words}
      unavailable={bare ? 'a photograph, or why there is none' : undefined}
      onPress={raise}
    />
  );
}

/** What it may be the same as: both are kept, the lead decides. */
function Same({ pairs, row }: Pick<RaiseKeysProps, 'pairs' | 'row'>) {
  const same = pairs.find((pair) => pair.query === 'same defect');
  if (!same || row.state !== 'Draft') return null;
  const other = same.numbers.find((number) => number !== row.number);
  return (
    <p class="raise-same">
      <strong>Same as {other}?</strong> {same.reason} Both are kept; the lead decides.
    </p>
  );
}

/** Cautions by their titles; what they say stands one touch away. */
function Cautions(props: { values: Record<string, Json>; in_full: boolean; onTurn: () => void }) {
  const cautions = cautionsOf(props.values);
  return (
    <section class="raise-cautions" aria-label="Cautions">
      {props.in_full ? (
        <ul>
          {cautions.map(({ title, text }) => (
            <li key={title}>
              <strong>{title}:</strong> {text}
            </li>
          ))}
        </ul>
      ) : (
        <p>
          <strong>Mind:</strong> {cautions.map(({ title }) => title.toLowerCase()).join(' · ')}
        </p>
      )}
      <Key
        label={props.in_full ? 'SHORT' : 'IN FULL'}
        spoken={props.in_full ? 'Cautions in short' : 'Cautions in full'}
        onPress={props.onTurn}
      />
    </section>
  );
}

function NoPicture({ shop, row, answers }: RaiseKeysProps) {
  const say = (reason: string) =>
    void answers.run(async () => {
      if (shop.session)
        await shop.capture.setField(shop.session, row.record, 'no_photograph', reason);
    });
  return (
    <div class="choice-keys no-picture">
      <h2 class="choice-question">No photograph yet. Why not?</h2>
      {NO_PICTURE.map((reason) => (
        <Key key={reason} label={reason} onPress={() => say(reason)} />
      ))}
    </div>
  );
}

const MOVABLE = ['Draft', 'Raised'];

/** Entered on the wrong hand: one key moves this one over, the old place stays in the history. */
function HandKey({ shop, row, answers }: RaiseKeysProps) {
  const place = row.place && shop.definition ? opposite(shop.definition, row.place) : null;
  if (!place || !MOVABLE.includes(row.state ?? '')) return null;
  const move = () =>
    void answers.run(async () => {
      if (!shop.session) return;
      await shop.capture.movePlaces(shop.session, [{ record: row.record, place }], WRONG_HAND);
    });
  return (
    <Key
      label={`MOVE TO\n${(HAND_WORDS[place.hand] ?? '').toUpperCase()}`}
      second="was entered on the wrong hand"
      size="inside"
      onPress={move}
    />
  );
}
