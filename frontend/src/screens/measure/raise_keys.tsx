import { Key } from '../../furniture';
import type { DefectRow, Json, ScreenProps, Shop } from '../../services/shop';
import { CameraInput, useCamera } from '../frame/camera';
import { cautionsFor } from './graded';

const NO_PICTURE = ['too dark', 'no room for a camera', 'wet or greasy'];

/** The last keys of a record: what is missing, cautions, and Raise. */
export function RaiseKeys(props: {
  shop: Shop;
  row: DefectRow;
  values: Record<string, Json>;
  go: ScreenProps['go'];
  run: (work: () => Promise<void>) => void;
  onUndo: () => void;
  onTouchOff: () => void;
}) {
  const { shop, row, values, go, run } = props;
  const { session } = shop;
  const bare = row.photographs === 0 && !values.no_photograph;
  const camera = useCamera(
    shop,
    () => undefined,
    (error) => run(() => Promise.reject(error)),
  );
  const raise = () =>
    run(async () => {
      if (session) await shop.moves.raise(session, row.record);
      go(`/airframe?raised=${row.number}`);
    });
  return (
    <div class="raise-keys">
      <CameraInput camera={camera} />
      <ul class="raise-cautions" aria-label="Cautions">
        {cautionsFor(values).map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      {bare && (
        <div class="choice-keys">
          <h2 class="choice-question">No photograph yet. Why not?</h2>
          {NO_PICTURE.map((reason) => (
            <Key
              key={reason}
              label={reason}
              onPress={() =>
                run(async () => {
                  if (session)
                    await shop.capture.setField(session, row.record, 'no_photograph', reason);
                })
              }
            />
          ))}
          <Key
            label="TAKE ONE"
            onPress={() =>
              camera.open({
                record: row.record,
                number: row.number ?? '',
                role: 'wide',
                mirrored: false,
              })
            }
          />
        </div>
      )}
      <HandKey {...props} />
      <div class="raise-last">
        <Key label={'TOUCH\nOFF'} second="ignore all" size="inside" onPress={props.onTouchOff} />
        <Key label="UNDO" second="last answer" kind="undo" size="inside" onPress={props.onUndo} />
        {row.state === 'Draft' ? (
          <Key
            label={`RAISE ${row.number}`}
            kind="main"
            letters={28}
            size="inside"
            second={row.grade_words}
            unavailable={bare ? 'a photograph, or why there is none' : undefined}
            onPress={raise}
          />
        ) : (
          <Key
            label="TO THE AIRFRAME"
            kind="main"
            letters={28}
            size="inside"
            second={row.state ?? undefined}
            onPress={() => go('/airframe')}
          />
        )}
      </div>
    </div>
  );
}

/** The last four were on the wrong hand: one key moves this one over, the old place stays in history. */
function HandKey({ shop, row, run }: Parameters<typeof RaiseKeys>[0]) {
  const { place } = row;
  if (!place || place.hand === 'C') return null;
  const other = place.hand === 'P' ? 'S' : 'P';
  const structure = shop.definition?.structures.find((one) => one.name === place.structure);
  if (!structure?.hands.includes(other)) return null;
  const words = other === 'P' ? 'PORT' : 'STARBOARD';
  const move = () =>
    run(async () => {
      if (!shop.session) return;
      const set = { place: { ...place, hand: other } as unknown as Json };
      await shop.capture.setFields(shop.session, row.record, set, 'wrong hand entered');
    });
  return <Key label={`MOVE TO ${words}`} second="was entered on the wrong hand" onPress={move} />;
}
