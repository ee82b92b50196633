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
import type { DefectRow, Definition, Place, ScreenProps } from '../../services/shop';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { useCamera } from './camera';
import { type CoverageRecord, lookedAt } from './cells';
import { type Cell, Choices, HAND_WORDS } from './choices';
import { Expansion } from './expansion';
import { CaptureKeys } from './keys';
import { LastPicture } from './last_picture';
import { useLooking } from './looking';
import { MoreKeys } from './more_keys';
import { HereBefore, nearby } from './nearby';
import { copied, oneBayOn } from './same_again';
import { useScaleWindow } from './scale_window';
import { useSpot } from './spot';
import { rowPlace, rowsAround, type Structure, spotOf } from './window';
import './screen.css';

/** Capture at the airframe: where you are, what is here, and the shutter. */
export default function Airframe(props: ScreenProps) {
  const { shop } = props;
  const { place, setPlace, undo } = useSpot(shop);
  const title = useAirframeTitle(shop);
  const structure = shop.definition?.structures.find((one) => one.name === place?.structure);
  if (!place || !structure || !shop.definition)
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        <Loading what="The airframe’s definition: it comes with the first exchange with the server" />
      </Sheet>
    );
  return (
    <Capture
      {...props}
      definition={shop.definition}
      structure={structure}
      place={place}
      setPlace={setPlace}
      undoPlace={undo}
    />
  );
}

interface CaptureProps extends ScreenProps {
  definition: Definition;
  structure: Structure;
  place: Place;
  setPlace: (place: Place) => void;
  undoPlace: (() => void) | null;
}

function Capture(props: CaptureProps) {
  const { shop, go, definition, structure, place, setPlace } = props;
  const [open, setOpen] = useState<Cell | null>(null);
  const [touchOff, setTouchOff] = useState(false);
  const [mirrored, setMirrored] = useState(false);
  const [more, setMore] = useState(false);
  const [looking, setLooking] = useLooking(shop);
  const { trouble, run } = useTrouble();
  const title = useAirframeTitle(shop);
  const defects = useLive(shop, () => shop.book.defects(), []) ?? [];
  const coverage = useLive(shop, () => shop.book.records('coverage'), []) ?? [];
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
  const rows = rowsAround(structure, spot);
  const window = useScaleWindow(station, members, structure.name);
  const drafts = defects.filter((row) => row.state === 'Draft').length;
  const here = nearby(defects, place, station);
  const sameAgain = async (row: DefectRow) => {
    const next = oneBayOn(definition, row.place ?? place);
    setPlace(next);
    const set = await copied(shop, row.record);
    await camera.shutter({ place: next, survey: looking.survey, mirrored, set });
  };
  const pick = (at: number, row?: number) =>
    setPlace(
      placeAtStation(structure, place, at, row === undefined ? {} : rowPlace(structure, row)),
    );
  return (
    <>
      <input
        ref={camera.input}
        class="spoken"
        type="file"
        accept="image/*"
        capture="environment"
        aria-label="Photograph"
        tabIndex={-1}
        onChange={camera.onFile}
      />
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
        position={
          <PositionBar cells={positionCells(definition, structure, place, open, setOpen)} />
        }
        keys={
          more ? (
            <MoreKeys
              shop={shop}
              go={go}
              defects={defects}
              looking={looking}
              onLooking={setLooking}
              onClose={() => setMore(false)}
              run={run}
            />
          ) : open ? (
            <Choices
              cell={open}
              definition={definition}
              structure={structure}
              place={place}
              onPlace={setPlace}
              onClose={() => setOpen(null)}
              onTouchOff={() => setTouchOff(true)}
            />
          ) : (
            <CaptureKeys
              shop={shop}
              definition={definition}
              structure={structure}
              place={place}
              setPlace={setPlace}
              undoPlace={props.undoPlace}
              outside={zoneWords(definition, place) === 'none'}
              defects={defects}
              looking={looking}
              onShutter={() =>
                run(() => camera.shutter({ place, survey: looking.survey, mirrored }))
              }
              onSameAgain={(row) => run(() => sameAgain(row))}
              onTouchOff={() => setTouchOff(true)}
              run={run}
            />
          )
        }
        title={<TitleBlock variant="airframe" cells={title} />}
      >
        <div class="capture-view">
          <h1 class="spoken">At the airframe</h1>
          <Expansion
            structure={structure}
            zones={definition.zones.filter((zone) => zone.structure === structure.name)}
            window={window}
            rows={rows}
            spot={spot}
            inside={place.face === 'inner'}
            looked={lookedAt(structure, coverage as CoverageRecord[])}
            defects={defects}
            onPick={pick}
          />
          <TroubleNote trouble={trouble} />
          <Stored raised={props.params.raised} dismissed={camera.dismissed} />
          <div class="capture-here">
            <LastPicture shop={shop} rows={here} />
            <div class="here-column">
              <HereBefore
                rows={here}
                place={place}
                station={station}
                unit={structure.unit ?? definition.unit}
                onOpen={(row) => go(`/airframe/${(row.number ?? '').replace('/', '')}`)}
              />
              <div class="here-keys">
                <Key
                  label={'SEEN IN\nA MIRROR'}
                  second="next picture"
                  size="inside"
                  chosen={mirrored}
                  onPress={() => setMirrored(!mirrored)}
                />
                <Key
                  label="MORE"
                  second={more ? 'close' : `${drafts} to finish`}
                  size="inside"
                  chosen={more}
                  onPress={() => setMore(!more)}
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
  definition: Definition,
  structure: Structure,
  place: Place,
  open: Cell | null,
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
  const offset = Number(place.offset.value) === 0 ? '' : ` + ${place.offset.value} aft`;
  const cells = [
    cell('structure', 'Structure', place.structure),
    cell('hand', 'Hand', HAND_WORDS[place.hand] ?? place.hand),
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
