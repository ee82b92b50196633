import { useState } from 'preact/hooks';
import { Key, SAFETY_FULL, Sheet, TitleBlock, type TitleCell } from '../../furniture';
import type { Json, ScreenProps } from '../../services/shop';
import { Field, TextField } from '../frame/fields';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import '../frame/form.css';

const FIELDS = [
  { name: 'workshop', label: 'Name of the workshop', value: '' },
  {
    name: 'time_zone',
    label: 'Time zone',
    value: Intl.DateTimeFormat().resolvedOptions().timeZone,
  },
  { name: 'lead_name', label: 'First lead: name or initials', value: '' },
  { name: 'stamp_number', label: 'Stamp number of the lead', value: '01' },
  { name: 'passcode', label: 'Passcode of the lead, six figures or more', value: '' },
] as const;

/** An empty book asks for workshop, time zone, units and first lead; an airframe may come later. */
export default function SetUp({ shop, go }: ScreenProps) {
  const [given, setGiven] = useState<Record<string, string>>(
    Object.fromEntries(FIELDS.map((field) => [field.name, field.value])),
  );
  const [unit, setUnit] = useState<'in' | 'mm'>('in');
  const [definition, setDefinition] = useState<File | null>(null);
  const [standard, setStandard] = useState<File | null>(null);
  const [said, setSaid] = useState<string[]>([]);
  const { trouble, busy, run } = useTrouble();
  const title = useAirframeTitle(shop);
  const make = () =>
    run(async () => {
      const body: Record<string, Json> = { ...given, unit };
      if (definition) body.definition = await readObject(definition, 'airframe’s definition');
      if (standard) body.standard = await readObject(standard, 'standard of acceptance');
      const told = (await shop.api.post('/api/setup', body)) as { said?: string[] };
      if (told.said?.length) setSaid(told.said);
      else begin();
    });
  const begin = () => {
    go('/', 'replace');
    location.assign('/');
  };
  if (said.length > 0) return <Started said={said} title={title} onBegin={begin} />;
  const missing = FIELDS.find((field) => !given[field.name]?.trim());
  return (
    <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
      <form
        class="form-sheet"
        onSubmit={(event) => {
          event.preventDefault();
          make();
        }}
      >
        <h1>Set up the book</h1>
        <p>{SAFETY_FULL}</p>
        {FIELDS.map((field) => (
          <TextField
            key={field.name}
            label={field.label}
            name={field.name}
            type={field.name === 'passcode' ? 'password' : 'text'}
            large
            value={given[field.name] ?? ''}
            onText={(text) => setGiven({ ...given, [field.name]: text })}
          />
        ))}
        <fieldset class="form-choice">
          <legend>Unit of the workshop</legend>
          <Key label="inches" chosen={unit === 'in'} onPress={() => setUnit('in')} />
          <Key label="millimetres" chosen={unit === 'mm'} onPress={() => setUnit('mm')} />
        </fieldset>
        <Field
          label="First airframe, if there is a file of it (JSON); else it is described later"
          large
        >
          <input
            name="definition"
            type="file"
            accept="application/json,.json"
            onChange={(event) => setDefinition(event.currentTarget.files?.[0] ?? null)}
          />
        </Field>
        <Field
          label="Standard of acceptance, the limits that defects are graded by (JSON): without one nothing is graded"
          large
        >
          <input
            name="standard"
            type="file"
            accept="application/json,.json"
            onChange={(event) => setStandard(event.currentTarget.files?.[0] ?? null)}
          />
        </Field>
        <TroubleNote trouble={trouble} />
        <Key
          type="submit"
          kind="main"
          letters={28}
          label="START THE BOOK"
          second={definition ? `with ${definition.name}` : 'then describe the airframe'}
          unavailable={busy ? 'a moment …' : missing ? `${missing.label} is missing` : undefined}
        />
      </form>
    </Sheet>
  );
}

/** The book stands; what is odd in the airframe's file is said once, and can be mended later. */
function Started(props: { said: string[]; title: TitleCell[]; onBegin: () => void }) {
  return (
    <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={props.title} />}>
      <div class="form-sheet">
        <h1>The book is started</h1>
        <p>The airframe’s file was taken as it is. Look at this, under Airframes, when you can:</p>
        <ul>
          {props.said.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
        <Key label="GO ON" kind="main" letters={28} second="to sign in" onPress={props.onBegin} />
      </div>
    </Sheet>
  );
}

async function readObject(file: File, what: string): Promise<Json> {
  try {
    return JSON.parse(await file.text()) as Json;
  } catch (cause) {
    throw Object.assign(new Error(`${file.name} is not a JSON file.`, { cause }), {
      code: 'bad_definition',
      hint: `Choose the file of the ${what}, as exported from another book.`,
    });
  }
}
