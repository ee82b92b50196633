import { useState } from 'preact/hooks';
import { Key, KeyRow } from '../../furniture';
import { DayField } from '../frame/day_field';
import { dayWords } from '../frame/words';

const KINDS = [
  { ending: 'csv', label: 'CSV', second: 'for any spreadsheet' },
  { ending: 'xlsx', label: 'XLSX', second: 'a workbook' },
  { ending: 'jsonl', label: 'JSON LINES', second: 'values as typed' },
] as const;

/** The defect book to take away: all of it, or the one zone that is chosen. */
export function TakeAway(props: {
  zone: string | null;
  records: number;
  busy: boolean;
  today: string;
  go: (address: string) => void;
  onTake: (path: string, name: string) => void;
}) {
  const { zone, records } = props;
  const [day, setDay] = useState('');
  const is_past = day !== '' && day < props.today;
  const suffix = is_past ? `-as-at-${day}` : '';
  const asked = (more: Record<string, string>) => {
    const query = new URLSearchParams({ ...more, ...(is_past ? { as_at: day } : {}) }).toString();
    return query && `?${query}`;
  };
  const named = zone ? `defects-zone-${zone}` : 'defects';
  return (
    <section class="take-away">
      <h2>Records to take away</h2>
      <p>
        {zone ? `Zone ${zone} alone: ` : 'The whole book: '}
        {records} {records === 1 ? 'record' : 'records'}, one a row.
        {zone ? '' : ' With one zone chosen, that zone alone.'}
      </p>
      <KeyRow apart="desk" label="Kinds of file">
        {KINDS.map(({ ending, label, second }) => (
          <Key
            key={ending}
            label={label}
            second={second}
            unavailable={props.busy ? 'a moment …' : undefined}
            onPress={() =>
              props.onTake(
                `/api/exports/defects.${ending}${asked(zone ? { zone } : {})}`,
                `${named}${suffix}.${ending}`,
              )
            }
          />
        ))}
      </KeyRow>
      <KeyRow apart="desk" label="Paper">
        <Key
          label="PAPER"
          second="form to print, enter from it"
          onPress={() => props.go('/paper')}
        />
      </KeyRow>
      <div class="take-away-day">
        <DayField
          label={`As at ${is_past ? dayWords(day) : 'today'}`}
          max={props.today}
          value={day}
          onText={setDay}
        />
      </div>
      {is_past && (
        <KeyRow apart="desk" label={`As at ${dayWords(day)}`}>
          <Key
            label="SEE THE BOOK"
            second={`as at ${dayWords(day)}`}
            onPress={() => props.go(`/defects?as_at=${day}`)}
          />
          <Key
            label="ZONE REPORT"
            second={`as at ${dayWords(day)}`}
            unavailable={props.busy ? 'a moment …' : zone ? undefined : 'choose one zone'}
            onPress={() =>
              props.onTake(
                `/api/reports/zone/${encodeURIComponent(zone ?? '')}.pdf${asked({})}`,
                `zone-${zone}${suffix}.pdf`,
              )
            }
          />
        </KeyRow>
      )}
    </section>
  );
}
