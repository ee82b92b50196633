import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { isShown, type PictureView, picturePoint, pictureViews } from '../../domain/place';
import {
  announce,
  FwdArrow,
  type GradeFigure,
  Key,
  type LabelledMark,
  type MarkState,
  useWidth,
  ViewMarks,
} from '../../furniture';
import type { DefectRow, Definition, Place, Shop } from '../../services/shop';
import { NotHere, usePicture } from '../frame/picture_here';
import { troubleOf } from '../frame/words';
import { nearestFirst } from './nearest';
import { pickedPlace } from './picked_place';
import './pictured.css';

export interface OnDrawingsProps {
  shop: Shop;
  definition: Definition;
  structure: Definition['structures'][number];
  place: Place;
  /** Every record of the airframe. */
  records: readonly DefectRow[];
  onPlace: (place: Place) => void;
}

/** Keys for the drawings of a structure, and the one chosen; the shell expansion unless another is. */
export function Chosen(props: OnDrawingsProps & { children: ComponentChildren }) {
  const { shop, definition, structure } = props;
  const views = useMemo(() => pictureViews(definition, structure.name), [definition, structure]);
  const [chosen, choose] = useChosen(shop, structure.name);
  const view = views.find((one) => one.name === chosen);
  return (
    <>
      {/* biome-ignore lint/a11y/useSemanticElements: no field of a form */}
      <div class="drawing-keys" role="group" aria-label="Drawing">
        <Key
          label="EXPANSION"
          size="small"
          letters={18}
          chosen={!view}
          onPress={() => choose('')}
        />
        {views.map((one) => (
          <Key
            key={one.name}
            label={one.title}
            size="small"
            letters={18}
            chosen={one === view}
            onPress={() => choose(one.name)}
          />
        ))}
      </div>
      {view ? <Pictured {...props} key={view.name} view={view} /> : props.children}
    </>
  );
}

/** The drawing that was chosen for a structure, kept over a reload. */
function useChosen(shop: Shop, structure: string): [string, (name: string) => void] {
  const [chosen, setChosen] = useState('');
  const screen = `drawing:${structure}`;
  const { session } = shop;
  useEffect(() => {
    setChosen('');
    if (!session) return;
    shop.drafts.read<string>(session, screen).then(
      (kept) => setChosen(kept ?? ''),
      () => undefined,
    );
  }, [shop, session?.person, screen]);
  const choose = (name: string) => {
    setChosen(name);
    if (session) void shop.drafts.write(session, screen, name);
  };
  return [chosen, choose];
}

const MOST_MARKS = 24;

/** A calibrated picture: the same marks over it, touch sets the place. */
function Pictured(props: OnDrawingsProps & { view: PictureView }) {
  const { shop, view, definition, place } = props;
  const { sha256, width_px, height_px } = view.picture;
  const picture = usePicture(shop, sha256);
  const box = useRef<HTMLDivElement>(null);
  const shown_px = useWidth(box, 752);
  const scale = width_px / shown_px;
  const at = pointOf(view, definition, place);
  const marks = useMemo(
    () => marksOn(view, definition, props.records, scale),
    [view, definition, props.records, scale],
  );
  const here = { x: (at?.[0] ?? 0) / scale, y: (at?.[1] ?? 0) / scale };
  const [named] = nearestFirst(marks, here, MOST_MARKS);
  const pick = (event: MouseEvent) => {
    const frame = (event.currentTarget as Element).getBoundingClientRect();
    const px = [(event.clientX - frame.left) * scale, (event.clientY - frame.top) * scale] as const;
    try {
      props.onPlace(pickedPlace(view, definition, place, px, scale));
    } catch (error) {
      announce(troubleOf(error).what);
    }
  };
  const sheet = view.sheet ? `sheet ${view.sheet}${view.issue ? `, issue ${view.issue}` : ''}` : '';
  const bounds = { left: 4, right: shown_px - 4, top: 4, bottom: height_px / scale - 4 };
  return (
    <figure class="pictured" ref={box}>
      <figcaption class="view-head">
        {view.forward && <FwdArrow fwd={view.forward} />}
        <span class="view-title">{view.title.toUpperCase()}</span>
        <span class="view-second">
          {[sheet, 'touch sets the place'].filter(Boolean).join(' · ')}
        </span>
      </figcaption>
      {picture.lack && <NotHere {...{ shop, picture }} what={view.title} />}
      {picture.url && (
        <svg viewBox={`0 0 ${width_px} ${height_px}`} onClick={pick} aria-hidden="true">
          <image href={picture.url} width={width_px} height={height_px} />
          <g transform={`scale(${scale})`}>
            <BayMeant {...props} {...{ scale }} />
            {at && <Here x={here.x} y={here.y} />}
            <ViewMarks marks={named} bounds={bounds} obstacles={at ? [crossBox(here)] : []} />
          </g>
        </svg>
      )}
    </figure>
  );
}

function pointOf(view: PictureView, definition: Definition, place: Place) {
  return isShown(view, definition, place) ? picturePoint(view, definition, place) : null;
}

function marksOn(
  view: PictureView,
  definition: Definition,
  rows: readonly DefectRow[],
  scale: number,
): LabelledMark[] {
  return rows.flatMap((row) => {
    if (!row.place || !isShown(view, definition, row.place)) return [];
    const [x, y] = picturePoint(view, definition, row.place);
    return {
      id: row.record,
      number: row.number ?? '',
      grade: row.grade as GradeFigure | null,
      at_least: !row.grade_known,
      state: row.state as MarkState,
      ...{ x: x / scale, y: y / scale },
    };
  });
}

const CROSS_PX = 26;

/** No label may hide where the person is. */
function crossBox({ x, y }: { x: number; y: number }) {
  const [left, right, top, bottom] = [x - CROSS_PX, x + CROSS_PX, y - CROSS_PX, y + CROSS_PX];
  return { left, right, top, bottom };
}

/** Crossed lines where the person is, over a paler edge: the picture may be dark or light there. */
function Here({ x, y }: { x: number; y: number }) {
  const d = `M${x - 26} ${y}h18m16 0h18M${x} ${y - 26}v18m0 16v18`;
  return (
    <>
      <path class="here-edge" d={d} />
      <path class="here-lines" d={d} />
    </>
  );
}

/** The bay and strake that the place lies in, as they run in the picture. */
function BayMeant(props: OnDrawingsProps & { view: PictureView; scale: number }) {
  const { view, definition, structure, place, scale } = props;
  const at = structure.members.findIndex((one) => one.name === place.member);
  const next = structure.members[at + 1]?.name;
  if (at < 0 || !next || !place.strakes) return null;
  const [low, high] = [place.strakes[0] as string, place.strakes.at(-1) as string];
  const corner = (member: string, strake: string): string => {
    const offset = { ...place.offset, value: '0' };
    const [x, y] = picturePoint(view, definition, {
      ...{ ...place, member, offset, strakes: [strake, strake] },
      hand: place.hand,
    });
    return `${x / scale} ${y / scale}`;
  };
  try {
    const round = [
      ...[corner(place.member, low), corner(next, low)],
      ...[corner(next, high), corner(place.member, high)],
    ];
    return (
      <>
        <path class="here-edge" d={`M${round.join('L')}Z`} />
        <path class="cell-frame" d={`M${round.join('L')}Z`} />
      </>
    );
  } catch {
    return null;
  }
}
