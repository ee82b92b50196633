import { Key, KeyRow } from '../../furniture';
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
  /** The day it is taken as at; nothing: as it stands. */
  past: string | null;
  /** Constructor’s number of the airframe whose records they are. */
  airframe: string | null;
  go: (address: string) => void;
  onTake: (path: string, name: string) => void;
}) {
  const { zone, records, past } = props;
  const named = zone ? `defects-zone-${zone}` : 'defects';
  return (
    <section class="take-away">
      <h2>Records to take away</h2>
      <p>
        {zone ? `Zone ${zone} alone` : 'The whole book'}
        {past ? ` as at ${dayWords(past)}` : `: ${records} ${records === 1 ? 'record' : 'records'}`}
        , one a row.{zone ? '' : ' With one zone chosen, that zone alone.'}
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
                `/api/exports/defects.${ending}${asked({ zone, airframe: props.airframe, as_at: past })}`,
                `${named}${suffix(past)}.${ending}`,
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
    </section>
  );
}

/** The query of what is asked; what is nothing is left out. */
export function asked(what: Record<string, string | null>): string {
  const given = Object.entries(what).filter((one): one is [string, string] => one[1] !== null);
  return given.length > 0 ? `?${new URLSearchParams(given)}` : '';
}

/** What the name of a file says of its day. */
export function suffix(past: string | null): string {
  return past ? `-as-at-${past}` : '';
}
