import { useState } from 'preact/hooks';
import { TwoValues } from '../../furniture';
import type { DefectRow, HistoryLine, Json, ScreenProps } from '../../services/shop';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';

/** One strip for each field with two values that differ: the lead chooses, with a reason. */
export function ChooseStrips({ shop, row }: ScreenProps & { row: DefectRow }) {
  const values = useLive(shop, () => shop.book.values(row.record), [row.record]) ?? {};
  const history = useLive(shop, () => shop.book.history(row.record), [row.record]) ?? [];
  const [why, setWhy] = useState('');
  const { trouble, run } = useTrouble();
  const { session } = shop;
  const fields = row.two_values.filter((field) => field !== 'state');
  if (fields.length === 0) return null;
  const choose = (field: string, value: Json) =>
    run(async () => {
      if (session) await shop.capture.chooseValue(session, row.record, field, value, why);
      setWhy('');
    });
  return (
    <div class="choose-strips">
      <label class="why">
        <span>Reason for the choice</span>
        <input type="text" value={why} onInput={(event) => setWhy(event.currentTarget.value)} />
      </label>
      <TroubleNote trouble={trouble} />
      {fields.map((field) => (
        <TwoValues
          key={field}
          text={`${field.replaceAll('_', ' ')}, ${row.number}. The worse counts until you choose.`}
          values={(values[field] ?? []).map((one) => ({
            id: one.entries[0] ?? '',
            value: valueWords(one.value),
            who: whoWrote(history, one.entries),
          }))}
          unavailable={
            session?.role !== 'lead'
              ? 'the lead chooses'
              : why.trim()
                ? undefined
                : 'a reason first'
          }
          onChoose={(id) => {
            const found = values[field]?.find((one) => one.entries[0] === id);
            if (found) choose(field, found.value);
          }}
        />
      ))}
    </div>
  );
}

/** Day and sentence of the entry that a value comes from. */
function whoWrote(history: HistoryLine[], entries: string[]): string {
  const line = history.find((one) => entries.includes(one.entry));
  return line ? `${line.date}: ${line.sentence}` : '';
}

/** A value as it is read: "0.011 in", "yes", "F6 + 2.0". */
export function valueWords(value: Json): string {
  if (value === null) return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value !== 'object') return String(value);
  if (!Array.isArray(value) && 'value' in value) return `${value.value} ${value.unit ?? ''}`.trim();
  if (!Array.isArray(value) && 'member' in value) {
    const offset = (value.offset as { value?: string } | null)?.value ?? '0';
    return `${value.hand} ${value.member} + ${offset}`;
  }
  return JSON.stringify(value);
}
