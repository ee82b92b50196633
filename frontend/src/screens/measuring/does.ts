/** What the keys of the measuring screen do. */

import { useRef } from 'preact/hooks';
import { Refused } from '../../domain/errors';
import { knownMm, type Measurement, pixels, type Scale, toPlane } from '../../domain/photo_measure';
import { refuseDepth } from '../../domain/photo_measure_refused';
import type { DefectRow, Shop } from '../../services/shop';
import type { Undoing } from '../airframe/undoing';
import { useLive } from '../live';
import { askedFor } from '../measure/graded';
import type { Picture } from '../photograph/pictures';
import { keepMeasurement, setScale, strikeScale, useAs } from './acts';
import type { Does } from './keys';
import { type Measuring, signedIn } from './measuring';
import { NOTHING_PLACED, tapOf, tenths } from './placing';
import { BANK_CARD, draftOf, refuseBar, type ScaleKind, scaleOfCard } from './scales';
import { refuseTurned, sidesOf, turned } from './sides';

export interface Tools {
  shop: Shop;
  row: DefectRow;
  picture: Picture;
  measuring: Measuring;
  run: (work: () => Promise<void>) => Promise<void>;
  undo: Undoing;
  setNote: (note: string | null) => void;
  back: () => void;
  toRecord: () => void;
  touchOff: () => void;
}

/** Lengths of a record that may come from a photograph; never its depth or thickness. */
const LENGTHS = ['length', 'width', 'hole_major', 'hole_minor', 'next_hole'];

export function useDoes(tools: Tools): { does: Does; fields: string[] } {
  const { shop, row, picture, measuring, run, setNote } = tools;
  const values = useLive(shop, () => shop.book.plain(row.record), [row.record]) ?? {};
  const asked = new Set(askedFor(values).map(({ field }) => field));
  const fields = LENGTHS.filter((field) => asked.has(field));
  const { chosen, standing, setMode } = measuring;
  const pressed = useRef('');
  const scale = standing?.scale ?? null;
  const does: Does = {
    keep: () => run(() => keep(tools)),
    useAs: (field) =>
      run(async () => {
        if (!chosen || !scale) return;
        const told = measuring.toldOf(chosen);
        if ('why' in told) throw new Refused('no_figure', told.why, told.hint);
        const from = { measurement: chosen.record, scale: scale.record, told: told.told };
        const press = `${chosen.record} ${field}`;
        const again = pressed.current === press;
        pressed.current = press;
        await useAs(shop, signedIn(shop), row, field, from, again);
        pressed.current = '';
      }),
    strike: () =>
      run(async () => {
        if (chosen) await shop.capture.setField(signedIn(shop), chosen.record, 'struck', true);
      }),
    strikeScale: () =>
      run(async () => {
        if (!scale) return;
        await strikeScale(shop, signedIn(shop), picture.record, row.record, scale);
        setMode({ at: 'scale' });
      }),
    strikeAgain: () =>
      run(async () => {
        const again = standing?.stranded?.scale;
        if (again) await strikeScale(shop, signedIn(shop), picture.record, row.record, again);
      }),
    findCard: (bar) => run(() => findCard(tools, bar)),
    askFigures: (kind) => askFigures(measuring, kind),
    depth: () => setNote(depthWords()),
    undo: () => void run(tools.undo.press),
    back: tools.back,
    toRecord: tools.toRecord,
    touchOff: tools.touchOff,
  };
  return { does, fields };
}

function askFigures({ setMode }: Measuring, kind: ScaleKind): void {
  if (kind.asks.length > 0) setMode({ at: 'figures', kind, typed: [] });
  else setMode({ at: 'points', draft: draftOf(kind, []), touch: kind.touch });
}

async function keep({ shop, picture, measuring, setNote }: Tools): Promise<void> {
  const { mode, placing, standing, place, setMode, choose } = measuring;
  const session = signedIn(shop);
  const points = tenths(placing.points);
  const tap = tapOf(placing.points);
  if (mode.at === 'points') {
    const scale = { ...mode.draft, points, tap };
    const laid = laidCard(scale, picture);
    await keepScale({ shop, picture }, laid.scale);
    setMode({ at: 'measure', shape: 'length' });
    setNote(laid.said);
  } else if (mode.at === 'measure' && mode.shape === 'outline') {
    await shop.capture.addMark(session, picture.record, { kind: 'outline', points });
    place(NOTHING_PLACED);
  } else if (mode.at === 'measure' && standing?.scale) {
    const on = { photograph: picture.record, scale: standing.scale.record };
    const one: Measurement = { shape: mode.shape as Measurement['shape'], points, tap };
    choose(await keepMeasurement(shop, session, on, one));
    place(NOTHING_PLACED);
  }
}

/** A rectangle as it lies, and what is to be said of it: a bank card touched from its short side is
turned; any other rectangle touched so is refused, for its sides have names. */
function laidCard(scale: Scale, picture: Picture): { scale: Scale; said: string | null } {
  if (scale.method !== 'rectangle') return { scale, said: null };
  const [wide = 0, high = 0] = knownMm(scale);
  const corners = pixels(scale.points);
  const sides = sidesOf(corners, [wide, high], picture);
  const isCard = scale.object === BANK_CARD;
  if (!isCard) refuseTurned(sides);
  const isTurned = isCard && sides.turned;
  const said = sides.sure ? (isTurned ? TURNED : null) : isTurned ? `${TURNED} ${UNSURE}` : UNSURE;
  if (!isTurned) return { scale, said };
  const points = turned(corners).map(([x, y]) => [Math.round(x * 10), Math.round(y * 10)] as const);
  return { scale: { ...scale, points }, said };
}

const TURNED = 'The card lies upright: its longer side was taken as its width.';
const UNSURE =
  'Seen very much from the side: look whether its longer side is right, or take it from in front.';

/** Refused before it is written where its corners tell no plane. */
async function keepScale({ shop, picture }: Pick<Tools, 'shop' | 'picture'>, scale: Scale) {
  toPlane(pixels(scale.points), knownMm(scale));
  await setScale(shop, signedIn(shop), picture.record, scale);
}

/** The printed card, found by itself; its reader is loaded now. */
async function findCard({ shop, picture, measuring }: Tools, bar: string): Promise<void> {
  refuseBar(bar);
  const [{ findCard }, { CARD }, bytes] = await Promise.all([
    import('../../services/scale_card'),
    import('../../domain/scale_card'),
    shop.files.bytes(picture.sha256),
  ]);
  if (!bytes)
    throw new Refused(
      'unreadable_picture',
      'The original of this photograph is not here, so the card can’t be looked for.',
      'Touch two points of known distance instead.',
    );
  const found = await findCard(new Blob([bytes]));
  await keepScale({ shop, picture }, scaleOfCard(found, CARD, bar));
  measuring.setMode({ at: 'measure', shape: 'length' });
}

function depthWords(): string {
  try {
    refuseDepth('depth');
  } catch (error) {
    if (error instanceof Refused) return `${error.message} ${error.hint}`;
  }
  return '';
}
