import { useState } from 'preact/hooks';
import { refuseFigures } from '../../domain/grading';
import { stationOf } from '../../domain/place';
import {
  FigureCell,
  FigureTable,
  Loading,
  NumberPad,
  Sheet,
  StationScale,
  TitleBlock,
  TouchOff,
  wholeOf,
  windowAround,
} from '../../furniture';
import type { DefectRow, Json, ScreenProps } from '../../services/shop';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTroubleInOrder } from '../frame/trouble';
import { troubleOf } from '../frame/words';
import { useLive } from '../live';
import { type Asked, cellWords, nextOpen } from './asked';
import { ChoiceKeys } from './choice_keys';
import { GradeBlock } from './grade_block';
import { askedFor, gradedOf, kindsListed, otherUnit } from './graded';
import { Head } from './head';
import { KindKeys } from './kind_keys';
import { RaiseKeys } from './raise_keys';
import { useTyped } from './typed';
import './screen.css';

/** One record being measured: kind, figures, and the grade with its reasons as they go in. */
export default function Measure(props: ScreenProps) {
  const { shop, params } = props;
  const number = params.number ?? '';
  const row = useLive(shop, async () => (await shop.book.numbered(number))[0] ?? null, [number]);
  const title = useAirframeTitle(shop);
  if (row === undefined || (row && !shop.definition))
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        <Loading what={`Record ${number}`} />
      </Sheet>
    );
  if (row === null)
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        <p class="no-record">
          No record {number} is on this tablet. <a href="/airframe">Back to the airframe</a>
        </p>
      </Sheet>
    );
  return <OneRecord key={row.record} {...props} row={row} />;
}

function OneRecord({ shop, row, go }: ScreenProps & { row: DefectRow }) {
  const { session } = shop;
  const stored = useLive(shop, () => shop.book.plain(row.record), [row.record]) ?? {};
  const [coming, setComing] = useState<Record<string, Json>>({});
  const values = { ...stored, ...coming };
  const title = useAirframeTitle(shop);
  const { trouble, run, setTrouble } = useTroubleInOrder();
  const [touchOff, setTouchOff] = useState(false);
  const [chosen, setChosen] = useState<string | 'raise' | null>(null);
  const can_undo = useLive(
    shop,
    async () => (session ? (await shop.capture.undoable(session, row.record)).steps > 0 : false),
    [row.record],
  );
  const asked = askedFor(values);
  const first = nextOpen(asked, values, null);
  const active =
    chosen === 'raise'
      ? null
      : (asked.find((one) => one.field === chosen) ?? (chosen === null ? first : null));
  const plate = platingOf(shop, row);
  const drawn =
    active?.field === 'thickness' && !values.thickness ? (plate?.thickness ?? null) : null;
  const unit = shop.definition?.unit === 'mm' ? 'mm' : 'in';
  const pad = useTyped(shop, row.record, active, drawn, unit);
  const graded = gradedOf(values, active, pad.quantity, shop.standard);
  const after = (field: string) => nextOpen(asked, values, field)?.field ?? 'raise';
  const write = (set: Record<string, Json>) =>
    run(async () => {
      if (session) await shop.capture.setFields(session, row.record, set);
    });
  /**
   * Moves on at once and stores meanwhile, so that what is typed next is typed where it belongs;
   * a refusal comes back to the field, where the figure as typed still is.
   */
  const keep = (one: Asked, value: Json | null, next: string | null) => {
    pad.leave();
    setChosen(next);
    if (value !== null) setComing((before) => ({ ...before, [one.field]: value }));
    return run(async () => {
      try {
        if (session && value !== null)
          await shop.capture.setField(session, row.record, one.field, value);
        await pad.clear();
      } catch (error) {
        setChosen(one.field);
        throw error;
      } finally {
        setComing(({ [one.field]: _, ...others }) => others);
      }
    });
  };
  const answer = (one: Asked, value: Json) => keep(one, value ?? null, after(one.field));
  const undo = () =>
    run(async () => {
      if (session && can_undo) await shop.capture.undo(session, row.record);
    });
  const skip = (one: Asked) => setChosen(after(one.field));
  /** Stores what was typed before the field is left, whichever way it is left. */
  const leaveFor = async (next: string | null) => {
    if (active && pad.is_touched) {
      const value = readOrSay();
      if (value === undefined) return;
      await keep(active, value, next ?? chosen);
    } else if (next !== null) setChosen(next);
    if (next === null) go('/airframe');
  };
  /** The figure on the pad, null where there is none; undefined after a refusal was said. */
  const readOrSay = () => {
    try {
      const value = pad.read();
      if (active && value !== null) refuseFigures({ ...values, [active.field]: value });
      return value;
    } catch (error) {
      setTrouble(troubleOf(error));
      return undefined;
    }
  };
  const type = (act: Parameters<typeof pad.act>[0]) => {
    setTrouble(null);
    pad.act(act);
  };
  const next_words = active ? wordsOf(asked, after(active.field)) : '';
  const keys = !values.kind ? (
    <KindKeys
      kinds={kindsListed()}
      onKind={(kind) =>
        write({ kind, ...(plate ? { material: plate.material, part: plate.part } : {}) })
      }
      onUndo={undo}
      onTouchOff={() => setTouchOff(true)}
    />
  ) : !active ? (
    <RaiseKeys
      shop={shop}
      row={row}
      values={values}
      go={go}
      run={run}
      onUndo={undo}
      onTouchOff={() => setTouchOff(true)}
    />
  ) : active.type === 'yes_no' || active.type === 'word' ? (
    <ChoiceKeys
      asked={active}
      value={values[active.field]}
      next={next_words}
      onAnswer={(value) => answer(active, value)}
      onNext={() => skip(active)}
      onUndo={undo}
      onTouchOff={() => setTouchOff(true)}
    />
  ) : (
    <NumberPad
      value={pad.typed.value}
      unit={pad.typed.unit}
      not_measured={
        pad.typed.not_measured ||
        (pad.typed.value === '' && values[active.field] === 'not measured')
      }
      units={active.gauge ? ['in', 'mm', 'SWG'] : active.type === 'quantity' ? ['in', 'mm'] : []}
      onFigure={(figure) => type({ act: 'figure', figure })}
      onRubOut={() => type({ act: 'rub out' })}
      onUnit={(unit) => type({ act: 'unit', unit })}
      onNotMeasured={() => answer(active, 'not measured')}
      onNext={() => {
        const value = readOrSay();
        if (value !== undefined) void keep(active, value, after(active.field));
      }}
      onUndo={undo}
      onTouchOff={() => setTouchOff(true)}
      next={next_words}
      undo="last answer"
      unavailable={can_undo ? {} : { undo: 'nothing since you came' }}
    />
  );
  return (
    <>
      <Sheet
        layout="airframe"
        top={<RecordScale shop={shop} row={row} />}
        keys={keys}
        title={<TitleBlock variant="airframe" cells={title} />}
      >
        <Head shop={shop} row={row} onAddress={go} onLater={() => leaveFor(null)} />
        <TroubleNote trouble={trouble} />
        {values.kind !== undefined && <GradeBlock graded={graded} face={row.place?.face} />}
        {asked.length > 0 && (
          <FigureTable label="Figures">
            {asked.map((one) => {
              const words = cellWords(one, values[one.field], otherUnit);
              const live = one.field === active?.field && pad.typed.value !== '';
              return (
                <FigureCell
                  key={one.field}
                  caption={one.label}
                  value={live ? pad.typed.value : words.value}
                  unit={live ? pad.typed.unit : words.unit}
                  second={live ? pad.second : words.second}
                  active={one.field === active?.field}
                  onOpen={() => leaveFor(one.field)}
                />
              );
            })}
          </FigureTable>
        )}
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

function wordsOf(asked: readonly Asked[], field: string): string {
  if (field === 'raise') return 'raise it';
  return (asked.find((one) => one.field === field)?.label ?? '').toLowerCase();
}

/** The plating at this place, from the airframe's definition. */
function platingOf(shop: ScreenProps['shop'], row: DefectRow) {
  const structure = shop.definition?.structures.find((one) => one.name === row.structure);
  const index = structure?.strakes?.indexOf(row.place?.strakes?.[0] ?? '') ?? -1;
  return structure?.plating?.find((one) =>
    one.strakes ? index >= one.strakes[0] && index < one.strakes[1] : true,
  );
}

function RecordScale({ shop, row }: { shop: ScreenProps['shop']; row: DefectRow }) {
  const { definition } = shop;
  const structure = definition?.structures.find((one) => one.name === row.structure);
  if (!definition || !structure || !row.place) return null;
  const members = structure.members.map((member) => ({
    name: member.name,
    station: Number(member.station),
    main: member.main === true,
    half: member.kind.startsWith('half'),
  }));
  const station = Number(stationOf(definition, row.place).value);
  return (
    <StationScale
      members={members}
      axis={structure.axis}
      window={windowAround(station, wholeOf(members), globalThis.innerWidth || 800)}
      position={station}
    />
  );
}
