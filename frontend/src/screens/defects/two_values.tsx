import { useState } from 'preact/hooks';
import { FIELDS } from '../../domain/fields';
import { valueWords } from '../../domain/history';
import { TwoValues } from '../../furniture';
import type { DefectRow, HistoryLine, Json, ScreenProps } from '../../services/shop';
import { TextField } from '../frame/fields';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { countedNow } from './counted_now';

/** One strip for each field with two values that differ: the lead chooses, with a reason. */
export function ChooseStrips({ shop, row }: ScreenProps & { row: DefectRow }) {
  const values = useLive(shop, () => shop.book.values(row.record), [row.record]) ?? {};
  const plain = useLive(shop, () => shop.book.plain(row.record), [row.record]) ?? {};
  const history = useLive(shop, () => shop.book.history(row.record), [row.record]) ?? [];
  const names = useLive(shop, () => shop.people.names(), []) ?? {};
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
      <TextField label="Reason for the choice" value={why} onText={setWhy} />
      <TroubleNote trouble={trouble} />
      {fields.map((field) => {
        const standing = values[field] ?? [];
        const now = countedNow(
          field,
          standing.map(({ value }) => value),
          plain,
          shop.standard,
        );
        return (
          <TwoValues
            key={field}
            text={`${labelOf(field)}, ${row.number}. The worse counts until you choose.`}
            values={standing.map((one, at) => ({
              id: one.entries[0] ?? '',
              value: valueWords('defect', field, one.value, names),
              who: whoWrote(history, one.entries),
              counts_now: now.includes(at),
              key_label: keyWords(valueWords('defect', field, one.value, names), at),
            }))}
            unavailable={
              session?.role !== 'lead'
                ? 'the lead chooses'
                : why.trim()
                  ? undefined
                  : 'a reason first'
            }
            onChoose={(id) => {
              const found = standing.find((one) => one.entries[0] === id);
              if (found) choose(field, found.value);
            }}
          />
        );
      })}
    </div>
  );
}

const ORDER = ['first', 'second', 'third'];
const MOST_LETTERS = 14;

/** The value itself where a key has room for it. */
function keyWords(words: string, at: number): string {
  return words.length <= MOST_LETTERS ? words : `Take the ${ORDER[at] ?? `${at + 1}th`}`;
}

const labelOf = (field: string) => FIELDS.defect?.[field]?.label ?? field.replaceAll('_', ' ');

/** Moment and sentence of the entry that a value comes from. */
function whoWrote(history: HistoryLine[], entries: string[]): string {
  const line = history.find((one) => entries.includes(one.entry));
  return line ? `${line.date} ${line.time}: ${line.sentence}` : '';
}
