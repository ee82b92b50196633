import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { stationOf } from '../../domain/place';
import { Loading, PositionBar, Sheet, StationScale, TitleBlock, TouchOff } from '../../furniture';
import { looksHere, surveysHere, zonesByHand } from '../../services/of_airframe';
import type { DefectRow, Definition, Json, Place, ScreenProps, Shop } from '../../services/shop';
import { CameraInput, useCamera } from '../frame/camera';
import { useFetched } from '../frame/fetched';
import { KeySize } from '../frame/key_size';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { UnsentAge } from '../frame/unsent_age';
import { useLive } from '../live';
import { Along } from './along';
import { bayOf, rowsIn, signedFor } from './bay';
import { useDefects } from './begun';
import { bayLooks, type CoverageRecord, type Looks, looksOf } from './cells';
import type { Cell, ChoicesProps } from './choices';
import { Expansion } from './expansion';
import { Here, Stored } from './here';
import { CaptureKeys } from './keys';
import { type Looking, useLooking } from './looking';
import type { MoreKeysProps } from './more_keys';
import { askable, MOST, NEAR, nearby } from './nearby';
import { OnDrawings } from './on_drawings';
import { placeAtStation, positionCells, zoneWords } from './place_cells';
import { copied, lastOf, oneBayOn, queried } from './same_again';
import { useScaleWindow } from './scale_window';
import { type SpotKept, useSpot } from './spot';
import { isToFinish, openDraft } from './still_to_finish';
import { toLookAgain } from './to_look_again';
import { useUndo } from './undoing';
import { reachOf, wholeBay } from './whole_bay';
import { rowPlace, rowsAround, type Structure, spotOf } from './window';
import './screen.css';

/** Capture at the airframe: where you are, what is here, and the shutter. */
export default function Airframe(props: ScreenProps) {
  const { shop } = props;
  const spot = useSpot(shop);
  const title = useAirframeTitle(shop);
  const { place } = spot;
  const structure = shop.definition?.structures.find((one) => one.name === place?.structure);
  // The place comes with the next frame: a sheet that says so would only delay it.
  if (shop.definition && !place) return null;
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

type Open = Cell | 'more' | 'again' | 'how' | 'key size' | null;

function Capture(props: CaptureProps) {
  const { shop, definition, structure, place, kept } = props;
  const [open, setOpen] = useState<Open>(null);
  const [touchOff, setTouchOff] = useState(false);
  const [looking, setLooking] = useLooking(shop);
  const { trouble, run } = useTrouble();
  const book = useBookHere(props, looking);
  const camera = useShots(props, looking, run);
  return (
    <>
      <CameraInput camera={camera.system} />
      <Sheet
        layout="airframe"
        hand={looking.hand}
        top={
          <StationScale
            members={book.members}
            window={book.window}
            position={book.station}
            axis={structure.axis}
            onPick={(at) => kept.setPlace(placeAtStation(structure, place, at, {}))}
          />
        }
        position={
          <PositionBar
            cells={positionCells({ definition, structure, place }, open, setOpen, kept.setPlace)}
          />
        }
        keys={
          <Keys
            {...{ ...props, open, setOpen, looking, run, book, camera }}
            onLooking={setLooking}
            onTouchOff={() => setTouchOff(true)}
          />
        }
        title={<TitleBlock variant="airframe" cells={book.title} />}
      >
        <View
          {...{ ...props, book, camera, run }}
          trouble={<TroubleNote trouble={trouble} />}
          onAgain={() => setOpen('again')}
        />
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

/** What the book holds round the place, and the part of the structure that is shown. */
function useBookHere({ shop, definition, structure, place }: CaptureProps, looking: Looking) {
  const known = useDefects(shop);
  const defects = known ?? NO_ROWS;
  const coverage = useLive(shop, () => looksHere(shop), [shop.airframe?.record]);
  const title = useAirframeTitle(shop, useSurveyWords(shop, looking));
  const station = Number(stationOf(definition, place).value);
  const members = useMemo(() => scaleMembers(structure), [structure]);
  const window = useScaleWindow(station, members, structure.name, structure.unit);
  const looks: Looks = useMemo(
    () => looksOf(structure, (coverage ?? []) as CoverageRecord[]),
    [structure, coverage],
  );
  const along = useMemo(() => new Along(defects, structure.name), [defects, structure]);
  const is_read = known !== undefined && coverage !== undefined;
  const close = around({ shop, structure, place }, along, station, is_read);
  return { ...{ defects, along, title, station, members, window, looks, is_read }, ...close };
}

const NO_ROWS: DefectRow[] = [];

function scaleMembers(structure: Structure) {
  return structure.members.map((member) => ({
    name: member.name.replace(/^F(?=12A$)/, ''),
    station: Number(member.station),
    main: member.main === true,
    half: member.kind.startsWith('half'),
  }));
}

/** Title of the survey of the day. */
function useSurveyWords(shop: Shop, looking: Looking): string {
  const surveys = useLive(shop, () => surveysHere(shop), [shop.airframe?.record]);
  const title = surveys?.find((one) => one.record === looking.survey)?.title;
  if (!looking.is_read || (looking.survey && !surveys)) return '…';
  return title ? String(title) : '–';
}

/** The records here, and the one that a new one could be the same as. */
function around(
  { shop, structure, place }: Pick<CaptureProps, 'shop' | 'structure' | 'place'>,
  along: Along,
  station: number,
  is_read: boolean,
) {
  if (!is_read) return { here: NO_ROWS, asked: undefined };
  const [from, to] = reachOf(structure, place, station);
  const reach = (NEAR[structure.unit] ?? 6) + 0.01;
  const close = along.between(from - reach, to + reach);
  const me = { person: shop.session?.person, today: shop.today() };
  const near = nearby(close, structure, place, station);
  return { here: near, asked: askable(near, me) };
}

type BookHere = ReturnType<typeof useBookHere>;
type Run = (work: () => Promise<void>) => Promise<void>;

/** The shutter and what starts from it: same again one bay on, and a query. */
function useShots({ shop, go, definition, place, kept }: CaptureProps, looking: Looking, run: Run) {
  const [mirrored, setMirrored] = useState(false);
  const system = useCamera(
    shop,
    (taken) => go(`/airframe/${taken.number.replace('/', '')}/photograph/${taken.photograph}`),
    (error) => void run(() => Promise.reject(error)),
  );
  const shoot = (at: Place, set: Record<string, Json> = {}) =>
    system.shutter({ place: at, survey: looking.survey, mirrored, set });
  const again = async (row: DefectRow) => {
    const next = oneBayOn(definition, row.place ?? place);
    kept.setPlace(next);
    await shoot(next, await copied(shop, row, definition, next));
  };
  return {
    system,
    mirrored,
    turn: () => setMirrored(!mirrored),
    press: () => void run(() => shoot(place)),
    shoot: (at: Place) => void run(() => shoot(at)),
    same: (row: DefectRow) => void run(() => again(row)),
    query: (row: DefectRow) => void run(async () => shoot(place, await queried(shop, row))),
  };
}

type Shots = ReturnType<typeof useShots>;

/** The keys of what is open: a cell of the position bar, MORE, the size of keys, or the shutter. */
function Keys(
  props: CaptureProps & {
    open: Open;
    setOpen: (open: Open) => void;
    looking: Looking;
    onLooking: (change: Partial<Looking>) => void;
    onTouchOff: () => void;
    run: Run;
    book: BookHere;
    camera: Shots;
  },
) {
  const { shop, go, definition, structure, place, kept, open, setOpen, looking, run } = props;
  const { defects, along, looks, is_read } = props.book;
  const person = shop.session?.person;
  const last = useMemo(
    () => lastOf(defects, person, structure.name),
    [defects, person, structure.name],
  );
  const to_finish = useMemo(
    () => defects.filter((row) => isToFinish(row, person)).length,
    [defects, person],
  );
  const undo = useUndo(shop, defects, { places: kept });
  const onClose = () => setOpen(null);
  if (open === 'key size') return <KeySize onClose={onClose} />;
  if (open === 'more' || open === 'again' || open === 'how')
    return (
      <More
        {...{ shop, go, definition, structure, place, defects, is_read, looking, run, onClose }}
        onLooking={props.onLooking}
        onPlace={kept.setPlace}
        onKeySize={() => setOpen('key size')}
        first={open === 'more' ? null : open}
      />
    );
  if (open)
    return (
      <OneCell
        {...{ shop, cell: open, definition, structure, place, onClose }}
        onPlace={kept.setPlace}
        onStructure={kept.goTo}
        onTouchOff={props.onTouchOff}
        onShoot={props.camera.shoot}
      />
    );
  return (
    <CaptureKeys
      {...{ shop, definition, structure, place, undo, last, is_read, looking, run }}
      defects={rowsIn(along, structure, bayOf(structure, place))}
      setPlace={kept.setPlace}
      looks={bayLooks(structure, bayOf(structure, place), looks)}
      outside={zoneWords(definition, place) === null}
      to_finish={to_finish}
      onShutter={props.camera.press}
      onSameAgain={props.camera.same}
      onTouchOff={props.onTouchOff}
      onMore={() => setOpen('more')}
      onHow={() => setOpen('how')}
    />
  );
}

// What is opened by a touch is fetched with the first one, so that the sheet is there sooner.
function More(props: MoreKeysProps) {
  const Page = useFetched(() => import('./more_keys').then((file) => file.MoreKeys));
  return Page && <Page {...props} />;
}

function OneCell(props: ChoicesProps) {
  const Page = useFetched(() => import('./choices').then((file) => file.Choices));
  return Page && <Page {...props} />;
}

/** The shell expansion, what became of the last record, and what is here. */
function View(
  props: CaptureProps & {
    book: BookHere;
    camera: Shots;
    trouble: ComponentChildren;
    onAgain: () => void;
  },
) {
  const { shop, go, definition, structure, place, kept, book, camera } = props;
  const { station, window, looks, along, here, is_read } = book;
  const defects = useMemo(() => along.between(window.from, window.to), [along, window]);
  const before = useMemo(() => along.before(window.from), [along, window]);
  const spot = useMemo(() => spotOf(structure, place, station), [structure, place, station]);
  const zones = useMemo(
    () =>
      definition.zones
        .filter((zone) => zone.structure === structure.name)
        .flatMap((zone) => zonesByHand(zone, structure)),
    [definition, structure],
  );
  const draft = useMemo(
    () => openDraft(book.defects, shop.session?.person, shop.device?.letter),
    [book.defects, shop.session?.person, shop.device?.letter],
  );
  const again = useMemo(
    () => toLookAgain(book.defects, shop.device?.letter).length,
    [book.defects, shop.device?.letter],
  );
  const bay = bayOf(structure, place);
  const rows = rowsAround(structure, spot, globalThis.innerHeight < LOW_PX ? ROWS_LOW : undefined);
  const pictured = here.slice(0, MOST).find((row) => row.photographs > 0);
  const leader = pictured?.place && spotOf(structure, pictured.place, Number(pictured.station));
  return (
    <div class="capture-view">
      <h1 class="spoken">At the airframe</h1>
      <OnDrawings
        {...{ shop, definition, structure, place, records: book.defects }}
        onPlace={kept.setPlace}
      >
        <Expansion
          {...{ structure, window, rows, spot, looks, defects, before, is_read }}
          zones={zones}
          inside={place.face === 'inner'}
          leader={leader ?? null}
          signed={bay && signedFor(structure, bay)}
          onPick={(at, row) =>
            kept.setPlace(
              wholeBay(structure, placeAtStation(structure, place, at, rowPlace(structure, row))),
            )
          }
        />
      </OnDrawings>
      {props.trouble}
      <UnsentAge shop={shop} />
      <Stored raised={props.params.raised} dismissed={camera.system.dismissed} />
      <Here
        {...{ shop, go, structure, pictured, place, station, is_read, asked: book.asked, draft }}
        rows={here}
        unit={structure.unit ?? definition.unit}
        is_told={Boolean(props.params.raised ?? camera.system.dismissed)}
        mirrored={camera.mirrored}
        again={again}
        onAgain={props.onAgain}
        onMirror={camera.turn}
        onQuery={camera.query}
      />
    </div>
  );
}
