import { DeskKey } from '../../furniture';
import type { Description } from '../../services/airframe_rows';
import type { PartProps } from './described';
import { rowTroubles } from './parts';
import { SetLine } from './set_line';
import { Table } from './table';

const OFF = [
  { name: 'name', label: 'Place off the aircraft', wide: 4, empty: 'such as Bench 2', wraps: true },
];

/** The airframe itself: what it is called, its unit, and where its parts lie when they are off it. */
export function About({ draft, troubles }: PartProps) {
  const { description, set } = draft;
  const line = (name: keyof Description) => ({
    value: String(description[name] ?? ''),
    wrong: troubles.find((one) => one.part === 'about' && one.column === NAMES[name])?.words,
    onText: (text: string) => set({ [name]: text } as Partial<Description>),
  });
  return (
    <>
      <div class="set-lines">
        <SetLine label="Type" example="Marsh Sedge 2" {...line('name')} first />
        <SetLine label="Constructor’s number" example="4417" {...line('constructor_number')} />
        <SetLine label="Issue" example="1" {...line('issue')} narrow />
        <fieldset class="set-unit">
          <legend>Unit</legend>
          {(['in', 'mm'] as const).map((unit) => (
            <DeskKey
              key={unit}
              label={unit === 'in' ? 'inches' : 'millimetres'}
              chosen={description.unit === unit}
              onPress={() => set({ unit })}
            />
          ))}
        </fieldset>
      </div>
      <Table
        of="place"
        columns={OFF}
        rows={description.off_aircraft}
        troubles={rowTroubles(troubles, 'about')}
        onRows={(off_aircraft) => set({ off_aircraft })}
      />
      <p class="part-hint">
        Parts taken off keep their records: “off aircraft, Bench 2 · Strut, port”. PAGE DOWN goes on
        to the structures, PAGE UP comes back.
      </p>
    </>
  );
}

const NAMES: Partial<Record<keyof Description, string>> = {
  ...{ name: 'name', constructor_number: 'constructor', issue: 'issue', unit: 'unit' },
};
