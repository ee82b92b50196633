import { Key, KeyRow } from '../../furniture';

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
  onTake: (path: string, name: string) => void;
}) {
  const { zone, records } = props;
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
                `/api/exports/defects.${ending}${zone ? `?zone=${encodeURIComponent(zone)}` : ''}`,
                `${named}.${ending}`,
              )
            }
          />
        ))}
      </KeyRow>
    </section>
  );
}
