import { viewPoint } from '../../domain/place';
import {
  DetailPicture,
  FigureLines,
  type GradeFigure,
  GradeMark,
  type MarkState,
  PlateSection,
  SafetyLine,
  ViewFrame,
} from '../../furniture';
import type { DefectRow, Json, ScreenProps, Shop } from '../../services/shop';
import { DrawnView } from '../frame/drawn_view';
import { NotHere, usePicture } from '../frame/picture_here';
import { useLive } from '../live';
import { cellWords } from '../measure/asked';
import { askedFor, gradedOf, otherUnit } from '../measure/graded';
import { MarksOn } from '../photograph/marks_on';
import { type Picture, usePhotographs } from '../photograph/pictures';
import { History } from './history';
import { MoveKeys } from './move_keys';
import { Stamps } from './stamps';
import { ChooseStrips } from './two_values';

/** One record on one sheet: what and how bad, where, figures and reasons, what is asked, history. */
export function RecordSheet(props: ScreenProps & { row: DefectRow }) {
  const { shop, row } = props;
  const values = useLive(shop, () => shop.book.plain(row.record), [row.record]) ?? {};
  const photographs = usePhotographs(shop, row.record) ?? [];
  return (
    <article class="record">
      <RecordHead row={row} values={values} />
      <ChooseStrips {...props} />
      <MoveKeys {...props} values={values} photographs={photographs} />
      <div class="record-where">
        <Where shop={shop} row={row} />
        <Details shop={shop} row={row} photographs={photographs} />
      </div>
      <Figures shop={shop} row={row} values={values} />
      <div class="record-foot">
        <History shop={shop} row={row} />
        <Stamps shop={shop} row={row} />
      </div>
    </article>
  );
}

export function RecordHead({ row, values }: { row: DefectRow; values: Record<string, Json> }) {
  const face = row.place?.face ? `, ${row.place.face} face` : '';
  const decided = [row.disposition, row.stage && `blocks ${row.stage}`, values.note as string];
  return (
    <header class="record-head">
      <GradeMark
        grade={row.grade as GradeFigure | null}
        at_least={!row.grade_known}
        state={row.state as MarkState}
        size={58}
      />
      <div>
        <h1>{row.number}</h1>
        <p>{row.grade_words}</p>
      </div>
      <div>
        <p class="record-what">
          {[row.kind_words, row.part].filter(Boolean).join(' · ')}
          {face}
        </p>
        <p>
          {row.place_words}
          {row.zone ? ` · zone ${row.zone}` : ''}
        </p>
        <p>{decided.filter(Boolean).join(' · ')}</p>
        {row.also_numbers.length > 0 && <p>also numbered {row.also_numbers.join(', ')}</p>}
        {row.same_as_number && <p>same as {row.same_as_number}</p>}
      </div>
      <p class="record-state">
        {row.state === 'Offered' ? 'OFFERED FOR INSPECTION' : row.state?.toUpperCase()}
      </p>
    </header>
  );
}

function Where({ shop, row }: { shop: Shop; row: DefectRow }) {
  const { definition } = shop;
  const own = definition?.views.filter((one) => one.structure === row.structure) ?? [];
  const view = own.find((one) => one.name === 'hull profile') ?? own[0];
  if (!definition || !view || !row.place) return <p class="no-view">No view of this structure.</p>;
  return (
    <ViewFrame
      title={view.title}
      fwd={view.forward ?? 'left'}
      second={isFarSide(view.seen_from, row.hand) ? 'place on the far side' : undefined}
    >
      <DrawnView
        view={view}
        point={pointOn(view, definition, row)}
        led={row.photographs > 0}
        spoken={`${view.title}: ${row.number} at ${row.place_words}`}
      />
    </ViewFrame>
  );
}

/** Seen from port, a place to starboard lies behind the drawing, and the other way round. */
function isFarSide(seen_from: string | undefined, hand: string | null): boolean {
  return (seen_from === 'port' && hand === 'S') || (seen_from === 'starboard' && hand === 'P');
}

function pointOn(
  view: Parameters<typeof viewPoint>[0],
  definition: Parameters<typeof viewPoint>[1],
  row: DefectRow,
): { x: number; y: number } | null {
  if (!row.place) return null;
  try {
    const [x, y] = viewPoint(view, definition, row.place);
    return { x, y };
  } catch {
    return null;
  }
}

export function Details(props: { shop: Shop; row: DefectRow; photographs: Picture[] }) {
  const { photographs } = props;
  const shown = photographs.slice(-2).reverse();
  if (shown.length === 0) return <p class="no-view">No photograph.</p>;
  return (
    <div class="record-details">
      {shown.map((picture, at) => (
        <Detail
          key={picture.record}
          {...props}
          picture={picture}
          letter={'AB'[at] ?? 'A'}
          caption={[
            picture.role,
            picture.day,
            `${photographs.indexOf(picture) + 1} of ${photographs.length}`,
          ]}
        />
      ))}
    </div>
  );
}

function Detail(props: {
  shop: Shop;
  row: DefectRow;
  picture: Picture;
  letter: string;
  caption: (string | null)[];
}) {
  const { picture } = props;
  const here = usePicture(props.shop, picture.sha256, 1000);
  const { url } = here;
  if (here.lack)
    return <NotHere shop={props.shop} picture={here} what={`Photograph ${props.letter}`} />;
  if (!url) return <p class="no-view">Photograph {props.letter} is on its way …</p>;
  return (
    <DetailPicture
      src={url}
      alt={`${props.row.number}, ${picture.role}`}
      width_px={picture.width_px}
      height_px={picture.height_px}
      mirrored={picture.mirrored}
      letter={props.letter}
      caption={props.caption.filter(Boolean).join(' · ')}
    >
      <MarksOn shop={props.shop} photograph={picture.record} />
    </DetailPicture>
  );
}

export function Figures({
  shop,
  row,
  values,
  section = true,
}: {
  shop: Shop;
  row: DefectRow;
  values: Record<string, Json>;
  /** Off where there is no room for the plate cut through. */
  section?: boolean;
}) {
  const graded = gradedOf(values, null, null, shop.standard);
  const lines = askedFor(values)
    .filter((one) => values[one.field] !== undefined && values[one.field] !== null)
    .map((one) => {
      const words = cellWords(one, values[one.field], otherUnit);
      return {
        name: (one.label.split(',')[0] ?? one.label).toLowerCase(),
        value: [words.value, words.unit].filter(Boolean).join(' '),
        second: words.second,
      };
    });
  const fired = row.fired ?? [];
  return (
    <section class="record-figures">
      <FigureLines lines={lines} />
      {section && graded.section && <PlateSection {...graded.section} height={96} width={120} />}
      <div class="reasons">
        <h2 class="spoken">Grade and why</h2>
        {fired.map((rule) => (
          <p key={rule.rule} class="reason">
            <GradeMark grade={rule.grade as GradeFigure} size={24} bare />
            <span>
              <strong>{rule.rule}</strong> {rule.reason}
              <small>
                {rule.basis.text} · {rule.basis.source}
              </small>
            </span>
          </p>
        ))}
        {graded.missing_words && <p class="grade-missing">{graded.missing_words}</p>}
        <p class="reasons-standard">Standard of acceptance {graded.standard_words}</p>
        <SafetyLine wording="short" />
      </div>
    </section>
  );
}
