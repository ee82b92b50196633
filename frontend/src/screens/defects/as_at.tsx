import { useEffect, useState } from 'preact/hooks';
import {
  Empty,
  ErrorFrame,
  type GradeFigure,
  GradeMark,
  Key,
  KeyOfMarks,
  Loading,
  type MarkState,
  SAFETY_FULL,
  Sheet,
  TitleBlock,
} from '../../furniture';
import { isHere } from '../../services/of_airframe';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { DayField } from '../frame/day_field';
import { useDeskTitle } from '../frame/title';
import type { Trouble } from '../frame/trouble';
import { dayWords, troubleOf } from '../frame/words';
import { CountedIndex } from '../questions/counted_index';
import { fileNumber } from './address';
import { noseToTail } from './order';
import './as_at.css';

/** The defect book as it stood at the end of a day: asked of the server, nothing to be changed. */
export function AsAt({ shop, params, go }: ScreenProps) {
  const day = params.as_at ?? '';
  const [rows, setRows] = useState<DefectRow[]>();
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const cells = useDeskTitle(shop, 'Defect book');
  useEffect(() => {
    let is_open = true;
    setRows(undefined);
    setTrouble(null);
    shop.api
      .get<DefectRow[]>(`/api/defects?as_at=${encodeURIComponent(day)}`)
      .then((found) => is_open && setRows(found))
      .catch((error) => is_open && setTrouble(troubleOf(error)));
    return () => {
      is_open = false;
    };
  }, [shop, day, shop.session?.online]);
  const shown =
    rows &&
    noseToTail(
      rows.filter((row) => isHere(shop, row) && row.state !== 'Raised in error'),
      shop.definition,
    );
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/defects" {...{ shop, go }} />}
      legend={<KeyOfMarks />}
      title={
        <TitleBlock
          variant="desk"
          cells={cells.map((one) =>
            one.caption === 'As at' ? { ...one, value: day, notes: [] } : one,
          )}
        />
      }
    >
      <div class="as-at">
        <div class="as-at-head">
          <h1>As at {dayWords(day)}</h1>
          <p>
            What stood at the end of that day, over all that had come to the server by then. Nothing
            is changed here.
          </p>
          <div class="as-at-day">
            <DayField
              label="Another day"
              value={day}
              max={shop.today()}
              onText={(other) => other && other !== day && go(`/defects?as_at=${other}`)}
            />
          </div>
          <Key label="THE BOOK AS IT STANDS" onPress={() => go('/defects')} />
        </div>
        {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
        {!shown && !trouble && <Loading what={`The book as at ${dayWords(day)}`} />}
        {shown?.length === 0 && <Empty looked_at title="No record had come by then" />}
        {shown && shown.length > 0 && (
          <table class="as-at-table">
            <caption class="spoken">Records as at {dayWords(day)}</caption>
            <thead>
              <tr>
                {['Record', 'Grade', 'State', 'Place', 'Kind', 'Why'].map((head) => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {shown.map(({ row }) => (
                <tr key={row.record}>
                  <th scope="row">{row.number ?? fileNumber(row)}</th>
                  <td class="as-at-grade">
                    <GradeMark
                      grade={row.grade as GradeFigure | null}
                      at_least={!row.grade_known && row.grade !== null}
                      state={(row.state ?? undefined) as MarkState | undefined}
                    />
                    {row.grade_words}
                  </td>
                  <td>{row.state}</td>
                  <td>{row.place_words}</td>
                  <td>{row.kind_words}</td>
                  <td>{reasonOf(row)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        <p class="as-at-safety">{SAFETY_FULL}</p>
      </div>
    </Sheet>
  );
}

/** The first of the rules that decide the grade, with its reason. */
function reasonOf({ fired }: DefectRow): string {
  const rule = fired.find((one) => one.deciding);
  return rule ? `${rule.rule} ${rule.reason}` : '';
}
