import { useState } from 'preact/hooks';
import { stationOf, zoneOf } from '../../domain/place';
import {
  Key,
  Loading,
  PositionBar,
  Sheet,
  StationScale,
  TitleBlock,
  TouchOff,
} from '../../furniture';
import type { DefectRow, Definition, Json, Place, ScreenProps } from '../../services/shop';
import { CameraInput, useCamera } from '../frame/camera';
import { KeySize } from '../frame/key_size';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { bayOf } from './bay';
import { useDefects } from './begun';
import { bayLooks, type CoverageRecord, looksOf } from './cells';
import { type Cell, Choices } from './choices';
import { Expansion } from './expansion';
import { HAND_SHORT, HAND_WORDS, nextHand } from './hands';
import { CaptureKeys } from './keys';
import { LastPicture } from './last_picture';
import { useLooking } from './looking';
import { MoreKeys } from './more_keys';
import { HereBefore, nearby } from './nearby';
import { copied, oneBayOn, queried } from './same_again';
import { useScaleWindow } from './scale_window';
import { type SpotKept, useSpot } from './spot';
import { toFinish } from './still_to_finish';
import { useUndo } from './undoing';
import { rowPlace, rowsAround, type Structure, spotOf } from './window';
import './screen.css';

/** Capture at the airframe: where you are, what is here, and the shutter. */
export default function Airframe(props: ScreenProps) {
  const { shop } = props;
  const spot = useSpot(shop);
  const title = useAirframeTitle(shop);
  const { place } = spot;
  const structure = shop.definition?.structures.find((one) => one.name === place?.structure);
  if (!place || !structure || !shop.definition)
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        <Loading what="The airframe’s definition: it comes with the first exchange with the server" />
      </Sheet>
    );
  const { definition } = shop;
  return <Capture {...props} {...{ definition, structure, place, kept: spot }} />;
}

/** On a tablet laid on its side fewer strakes are shown, so that the last picture has its room. */
const LOW_PX = 1000;
const ROWS_LOW = 5;

interface CaptureProps extends ScreenProps {
  definition: Definition;
  structure: Structure;
  place: Place;
  kept: SpotKept;
}

function Capture(props: CaptureProps) {
  const { shop, go, definition, structure, place, kept } = props;
  const { setPlace } = kept;
  const [open, setOpen] = useState<Cell | 'more' | 'key size' | null>(null);
  const [touchOff, setTouchOff] = useState(false);
  const [mirrored, setMirrored] = useState(false);
  const [looking, setLooking] = useLooking(shop);
  const { trouble, run } = useTrouble();
  const defects = useDefects(shop);
  const coverage = useLive(shop, () => shop.book.records('coverage'), []) ?? [];
  const surveys = useLive(shop, () => shop.book.records('survey'), []) ?? [];
  const survey = surveys.find((one) => one.record === looking.survey)?.title;
  const title = useAirframeTitle(shop, survey ? String(survey) : '–');
  const undo = useUndo(shop, defects, { places: kept });
  const camera = useCamera(
    shop,
    (taken) => go(`/airframe/${taken.number.replace('/', '')}/photograph/${taken.photograph}`),
    (error) => run(() => Promise.reject(error)),
  );
  const station = Number(stationOf(definition, place).value);
  const members = structure.members.map((member) => ({
    name: member.name.replace(/^F(?=12A$)/, ''),
    station: Number(member.station),
    main: member.main === true,
    half: member.kind.startsWith('half'),
  }));
  const spot = spotOf(structure, place, station);
  const rows = rowsAround(structure, spot, globalThis.innerHeight < LOW_PX ? ROWS_LOW : undefined);
  const window = useScaleWindow(station, members, structure.name);
  const looks = looksOf(structure, coverage as CoverageRecord[]);
  const here = nearby(defects, structure, place, station);
  const pictured = here.find((row) => row.photographs > 0);
  const unit = structure.unit ?? definition.unit;
  const shoot = (at: Place, set: Record<string, Json> = {}) =>
    camera.shutter({ place: at, survey: looking.survey, mirrored, set });
  const sameAgain = async (row: DefectRow) => {
    const next = oneBayOn(definition, row.place ?? place);
    setPlace(next);
    await shoot(next, await copied(shop, row.record));
  };
  const pick = (at: number, row?: number) =>
    setPlace(
      placeAtStation(structure, place, at, row === undefined ? {} : rowPlace(structure, row)),
    );
  const close = () => setOpen(null);
  const keys =
    open === 'key size' ? (
      <KeySize onClose={close} />
    ) : open === 'more' ? (
      <MoreKeys
        {...{ shop, go, definition, structure, place, defects, looking, run }}
        onLooking={setLooking}
        onKeySize={() => setOpen('key size')}
        onClose={close}
      />
    ) : open ? (
      <Choices
        {...{ cell: open, definition, structure, place }}
        onPlace={setPlace}
        onStructure={kept.goTo}
        onClose={close}
        onTouchOff={() => setTouchOff(true)}
      />
    ) : (
      <CaptureKeys
        {...{ shop, definition, structure, place, setPlace, undo, defects, looking, run }}
        looks={bayLooks(structure, bayOf(structure, place), looks)}
        outside={zoneWords(definition, place) === 'none'}
        to_finish={toFinish(defects, shop.session?.person).length}
        onShutter={() => run(() => shoot(place))}
        onSameAgain={(row) => run(() => sameAgain(row))}
        onTouchOff={() => setTouchOff(true)}
        onMore={() => setOpen('more')}
      />
    );
  return (
    <>
      <CameraInput camera={camera} />
      <Sheet
        layout="airframe"
        hand={looking.hand}
        top={
          <StationScale
            members={members}
            window={window}
            position={station}
            axis={structure.axis}
            onPick={(at) => pick(at)}
          />
        }
        position={<PositionBar cells={positionCells(props, open, setOpen)} />}
        keys={keys}
        title={<TitleBlock variant="airframe" cells={title} />}
      >
        <div class="capture-view">
          <h1 class="spoken">At the airframe</h1>
          <Expansion
            {...{ structure, window, rows, spot, looks, defects }}
            zones={definition.zones.filter((zone) => zone.structure === structure.name)}
            inside={place.face === 'inner'}
            leader={
              pictured?.place ? spotOf(structure, pictured.place, Number(pictured.station)) : null
            }
            onPick={pick}
          />
          <TroubleNote trouble={trouble} />
          <Stored raised={props.params.raised} dismissed={camera.dismissed} />
          <div class="capture-here">
            <LastPicture shop={shop} row={pictured} />
            <div class="here-column">
              <HereBefore
                {...{ rows: here, place, station, unit }}
                onOpen={(row) => go(`/airframe/${(row.number ?? '').replace('/', '')}`)}
              />
              <div class="here-keys">
                <QuerySame
                  row={here.find((row) => row.state !== 'Draft')}
                  unavailable={shop.device?.letter ? undefined : 'a desk gives no numbers'}
                  onQuery={(row) => run(async () => shoot(place, await queried(shop, row)))}
                />
                <Key
                  label={'NEXT PICTURE\nSEEN IN\nA MIRROR'}
                  size="inside"
                  letters={18}
                  chosen={mirrored}
                  onPress={() => setMirrored(!mirrored)}
                />
              </div>
            </div>
          </div>
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

/** Found before, so it seems: a record of its own all the same, which the lead decides about. */
function QuerySame(props: {
  row: DefectRow | undefined;
  unavailable: string | undefined;
  onQuery: (row: DefectRow) => void;
}) {
  const { row } = props;
  return (
    <Key
      label={row ? `QUERY SAME,\n${row.number}` : 'QUERY SAME'}
      size="inside"
      letters={18}
      second={'both kept,\nlead decides'}
      unavailable={props.unavailable ?? (row ? undefined : 'nothing recorded here')}
      onPress={() => row && props.onQuery(row)}
    />
  );
}

/** What became of the last record: raised, with what to write on the metal, or left as a draft. */
function Stored(props: { raised: string | undefined; dismissed: string | null }) {
  const { raised, dismissed } = props;
  if (dismissed)
    return (
      <output class="stored">
        <strong>{dismissed} is stored without a picture.</strong> MORE, STILL TO FINISH goes on with
        it.
      </output>
    );
  if (!raised) return null;
  return (
    <output class="stored">
      <strong>{raised} is raised and stored.</strong> Write {raised.replace('/', '')} beside it on
      the metal.
    </output>
  );
}

/** The place at a touched station: the member before it, offset to the nearest half inch. */
function placeAtStation(
  structure: Structure,
  place: Place,
  station: number,
  strake: Partial<Place>,
): Place {
  const stations = structure.members.map((member) => Number(member.station));
  const at = Math.max(
    stations.findLastIndex((one) => one <= station),
    0,
  );
  const half = Math.round((station - (stations[at] ?? 0)) * 2) / 2;
  const next = stations[at + 1];
  const full = next !== undefined && (stations[at] ?? 0) + half >= next;
  const member = structure.members[full ? at + 1 : at]?.name ?? place.member;
  const value = full ? '0' : String(Math.max(half, 0));
  return { ...place, ...strake, member, offset: { value, unit: place.offset.unit } };
}

function positionCells(
  { definition, structure, place, kept }: CaptureProps,
  open: string | null,
  setOpen: (cell: Cell | null) => void,
) {
  const cell = (name: Cell, caption: string, value: string, wide = false) => ({
    caption,
    value,
    wide,
    open: open === name,
    onOpen: () => setOpen(open === name ? null : name),
  });
  const station = stationOf(definition, place).value;
  const offset =
    Number(place.offset.value) === 0 ? '' : ` + ${place.offset.value} ${structure.positive}`;
  const other = nextHand(definition, place);
  const cells = [
    cell('structure', 'Structure', place.structure),
    {
      caption: other ? `Hand, next ${HAND_SHORT[other.hand]}` : 'Hand',
      value: HAND_WORDS[place.hand] ?? place.hand,
      ...(other ? { onOpen: () => kept.setPlace(other) } : {}),
    },
    cell(
      'member',
      `${structure.axis} ${station} · zone ${zoneWords(definition, place)}`,
      place.member + offset,
      true,
    ),
  ];
  if (place.strakes) cells.push(cell('strakes', 'Strakes', place.strakes.join('–')));
  if ((structure.faces?.length ?? 0) > 0) cells.push(cell('face', 'Face', place.face ?? '–'));
  return cells;
}

function zoneWords(definition: Definition, place: Place): string {
  try {
    return zoneOf(definition, place);
  } catch {
    return 'none';
  }
}
