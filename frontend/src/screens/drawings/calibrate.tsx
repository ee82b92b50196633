import { useState } from 'preact/hooks';
import type { Definition, PictureView, Structure } from '../../domain/place';
import { announce, DeskKey, KeyRow, SAFETY_SHORT } from '../../furniture';
import type { Shop } from '../../services/shop';
import { SetLine } from '../airframes/set_line';
import { ChoiceField, Field } from '../frame/fields';
import { AddFile } from './add_file';
import { FitFigures, FitWords } from './fit_words';
import {
  type Drawing,
  drawingOf,
  type Known,
  lacks,
  leastPoints,
  NO_POINT,
  nameFor,
  newDrawing,
  viewOf,
  wholePoints,
} from './known';
import { PointsTable } from './points_table';
import { SheetPicture } from './sheet_picture';
import { useFit } from './use_fit';

interface CalibrateProps {
  shop: Shop;
  definition: Definition;
  /** The view that is calibrated again; null: a new one. */
  view: PictureView | null;
  whyNot: string | undefined;
  /** Puts the view into the draft, in place of the one given or at the end. */
  onKeep: (view: PictureView) => void;
  onBack: () => void;
}

/** One drawing: its file, what it shows, its known points, and what the fit is worth. */
export function Calibrate(props: CalibrateProps) {
  const { shop, definition, view } = props;
  const [drawing, setDrawing] = useState(() => begun(definition, view));
  const [chosen, setChosen] = useState<number | null>(drawing.points.length > 0 ? 0 : null);
  const structure = structureOf(definition, drawing.structure);
  const fit = useFit(shop, drawing, structure);
  const rows = wholePoints(drawing, structure);
  const set = (change: Partial<Drawing>) => setDrawing((last) => ({ ...last, ...change }));
  const points = pointsOf(drawing, chosen, set, setChosen);
  const lacking = fit.waiting ? 'fitting …' : lacks(drawing, fit.fitted);
  const keep = () => {
    if (!fit.fitted) return;
    const taken = definition.views.map(({ name }) => name);
    const name = view?.name ?? nameFor(drawing, taken);
    const by = shop.session?.name ?? '';
    props.onKeep(viewOf(drawing, structure, fit.fitted, { name, by, date: shop.today() }));
    announce('The drawing is in the draft. It counts with the next issue.');
  };
  return (
    <div class="calibrate">
      <section class="calibrate-said" aria-label="The drawing">
        <About {...{ definition, drawing, structure, set }} fixed={view !== null} />
        <AddFile
          {...{ shop, drawing }}
          whyNot={props.whyNot}
          onPicture={(picture) => set({ picture })}
        />
      </section>
      <div class="calibrate-work">
        <SheetPicture
          {...{ shop, drawing, chosen, rows }}
          fitted={fit.fitted}
          unit={structure.unit}
          onTouch={points.touch}
          onNudge={points.nudge}
        />
        {drawing.picture && (
          <div class="calibrate-points">
            <FitFigures fit={fit} unit={structure.unit} />
            <KeyRow apart="desk" label="Points">
              <DeskKey label="ADD A POINT" onPress={() => points.add(false)} />
              <DeskKey
                label="ADD THE CHECK POINT"
                unavailable={
                  drawing.points.some((one) => one.is_check) ? 'there is one' : undefined
                }
                onPress={() => points.add(true)}
              />
              {NUDGES.map(([label, spoken, by]) => (
                <DeskKey key={label} {...{ label, spoken }} onPress={() => points.nudge(by)} />
              ))}
            </KeyRow>
            {drawing.points.length > 0 && (
              <PointsTable
                {...{ drawing, structure, chosen, rows }}
                fitted={fit.fitted}
                onChoose={setChosen}
                onChange={points.change}
                onTakeOff={points.takeOff}
              />
            )}
            <FitWords fit={fit} least={leastPoints(drawing)} />
          </div>
        )}
      </div>
      <KeyRow apart="desk">
        <DeskKey
          label="KEEP IN THE DRAFT"
          kind="main"
          second={fit.fitted?.check_error === null ? 'no check point: add one first' : undefined}
          unavailable={props.whyNot ?? lacking ?? undefined}
          onPress={keep}
        />
        <DeskKey label="BACK" second="nothing is kept" onPress={props.onBack} />
      </KeyRow>
      <p class="part-hint">
        {SAFETY_SHORT}. A new issue of a sheet is a new drawing: marks go by place and lie on both.
      </p>
    </div>
  );
}

const NUDGES: [string, string, [number, number]][] = [
  ['←', 'Move the point left by 1 px', [-1, 0]],
  ['→', 'Move the point right by 1 px', [1, 0]],
  ['↑', 'Move the point up by 1 px', [0, -1]],
  ['↓', 'Move the point down by 1 px', [0, 1]],
];

function begun(definition: Definition, view: PictureView | null): Drawing {
  const structure = structureOf(definition, view?.structure ?? '');
  return view ? drawingOf(view, structure) : newDrawing(structure);
}

function structureOf({ structures }: Definition, name: string): Structure {
  return (structures.find((one) => one.name === name) ?? structures[0]) as Structure;
}

/** Points touched, moved, said and taken off. */
function pointsOf(
  drawing: Drawing,
  chosen: number | null,
  set: (change: Partial<Drawing>) => void,
  choose: (row: number | null) => void,
) {
  const put = (points: Known[]) => set({ points });
  const change = (row: number, by: Partial<Known>) =>
    put(drawing.points.map((one, at) => (at === row ? { ...one, ...by } : one)));
  const add = (is_check: boolean, px: Known['px'] = null) => {
    const { side = 'P' } = drawing.points.at(-1) ?? {};
    put([...drawing.points, { ...NO_POINT, side, is_check, px }]);
    choose(drawing.points.length);
  };
  return {
    change,
    add,
    touch: (px: [number, number]) => {
      if (chosen === null || !drawing.points[chosen]) add(false, px);
      else change(chosen, { px });
    },
    nudge: ([x, y]: [number, number]) => {
      const at = chosen === null ? null : drawing.points[chosen]?.px;
      if (at && chosen !== null) change(chosen, { px: [at[0] + x, at[1] + y] });
    },
    takeOff: (row: number) => {
      put(drawing.points.filter((_, at) => at !== row));
      choose(null);
    },
  };
}

const HANDS = { '': 'both, or none', P: 'port', S: 'starboard', C: 'centreline' } as const;
const METHODS = ['similarity', 'affine', 'homography'] as const;

/** What the drawing shows, and how its axes are told. */
function About(props: {
  definition: Definition;
  drawing: Drawing;
  structure: Structure;
  set: (change: Partial<Drawing>) => void;
  fixed: boolean;
}) {
  const { definition, drawing, structure, set } = props;
  const names = definition.structures.map(({ name }) => name);
  return (
    <>
      <div class="set-lines">
        <SetLine label="Title" value={drawing.title} onText={(title) => set({ title })} />
        <SetLine label="Sheet" value={drawing.sheet} narrow onText={(sheet) => set({ sheet })} />
        <SetLine label="Issue" value={drawing.issue} narrow onText={(issue) => set({ issue })} />
        <SetLine
          label="Limit, % of the span"
          value={drawing.limit}
          narrow
          onText={(limit) => set({ limit })}
        />
      </div>
      <div class="calibrate-choices">
        <ChoiceField
          label="Structure"
          value={drawing.structure}
          names={names}
          empty="–"
          onText={(name) =>
            name && set({ ...newDrawing(structureNamed(definition, name)), ...keptOf(drawing) })
          }
        />
        <Field label="Hand shown">
          <select
            value={drawing.hand}
            onChange={(event) => set({ hand: event.currentTarget.value as Drawing['hand'] })}
          >
            {(['', ...structure.hands] as const).map((hand) => (
              <option key={hand} value={hand}>
                {HANDS[hand]}
              </option>
            ))}
          </select>
        </Field>
        <Field label="Second axis">
          <select
            value={drawing.second}
            onChange={(event) => set({ second: event.currentTarget.value as Drawing['second'] })}
          >
            <option value="water line">water line</option>
            {structure.strakes.length > 1 && <option value="strake">strake</option>}
          </select>
        </Field>
        <ChoiceField
          label="Fit"
          value={drawing.method}
          names={METHODS}
          empty="by the number of points"
          onText={(method) => set({ method: method as Drawing['method'] })}
        />
      </div>
    </>
  );
}

function structureNamed(definition: Definition, name: string): Structure {
  return structureOf(definition, name);
}

/** What stays when another structure is chosen: its points are of the old one. */
function keptOf({ title, sheet, issue, picture, limit }: Drawing) {
  return { title, sheet, issue, picture, limit };
}
