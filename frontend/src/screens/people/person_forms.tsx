import { useState } from 'preact/hooks';
import { DeskKey, KeyRow } from '../../furniture';
import type { Shop } from '../../services/shop';
import { TextField } from '../frame/fields';
import { useTrouble } from '../frame/trouble';
import { roleWords } from '../frame/words';
import { AskedForm } from './asked_form';
import { heldWords, type PersonRow } from './register';

interface FormProps {
  shop: Shop;
  onBack: () => void;
  onDone: () => Promise<void>;
}

const ROLES = ['inspector', 'lead', 'clerk', 'fitter', 'bench_fitter', 'design_authority'];
const LEAST = 6;

/** Gives a person another role, or withdraws the one held; both with a reason. */
export function RoleForm({ shop, person, onBack, onDone }: FormProps & { person: PersonRow }) {
  const [role, setRole] = useState<string | null>(null);
  const [reason, setReason] = useState('');
  const asked = useTrouble();
  const change = (to: string | null) =>
    asked.run(async () => {
      await shop.api.post(pathOf(person, 'role'), { role: to, reason });
      await onDone();
    });
  const lacks = reason.trim() === '' ? 'write the reason' : undefined;
  return (
    <AskedForm
      title={`Role of ${person.name}: ${heldWords(person.role)}`}
      text={`What ${person.name} recorded and decided so far stays good. Who has no role is signed out at once and can’t sign in.`}
      label="GIVE ROLE"
      second={role ? roleWords(role) : undefined}
      lacks={role === null ? 'choose a role' : lacks}
      asked={asked}
      onDone={() => change(role)}
      onBack={onBack}
      more={
        person.role && (
          <DeskKey
            label="WITHDRAW ROLE"
            kind="undo"
            second={roleWords(person.role)}
            unavailable={asked.busy ? 'a moment …' : lacks}
            onPress={() => change(null)}
          />
        )
      }
    >
      <RoleKeys chosen={role} held={person.role} onChoose={setRole} />
      <TextField label="Reason" value={reason} onText={setReason} />
    </AskedForm>
  );
}

/** A new person: name, role, stamp number and first passcode. */
export function NewPerson({ shop, onBack, onDone }: FormProps) {
  const [given, setGiven] = useState({ name: '', stamp_number: '', passcode: '' });
  const [role, setRole] = useState<string | null>(null);
  const asked = useTrouble();
  const set = (field: keyof typeof given) => (text: string) =>
    setGiven({ ...given, [field]: text });
  const lacks =
    (given.name.trim() === '' && 'write the name') ||
    (role === null && 'choose a role') ||
    (given.passcode.length < LEAST && 'the passcode has six figures or more') ||
    undefined;
  const write = () =>
    asked.run(async () => {
      await shop.api.post('/api/people', { ...given, role });
      await onDone();
    });
  return (
    <AskedForm
      title="New person"
      text="The person can sign in on a tablet once it has met the server."
      label="WRITE INTO THE BOOK"
      {...{ lacks, asked, onBack }}
      onDone={write}
    >
      <TextField label="Name or initials" value={given.name} onText={set('name')} />
      <TextField
        label="Stamp number, where one is held"
        value={given.stamp_number}
        onText={set('stamp_number')}
      />
      <PasscodeField
        label="First passcode, six figures or more"
        value={given.passcode}
        onText={set('passcode')}
      />
      <RoleKeys chosen={role} held={null} onChoose={setRole} />
    </AskedForm>
  );
}

/** A new passcode for somebody who has forgotten it. */
export function PasscodeForm({ shop, person, onBack, onDone }: FormProps & { person: PersonRow }) {
  const [passcode, setPasscode] = useState('');
  const asked = useTrouble();
  const write = () =>
    asked.run(async () => {
      await shop.api.put(pathOf(person, 'passcode'), { passcode });
      await onDone();
    });
  return (
    <AskedForm
      title={`New passcode for ${person.name}`}
      text={`It holds from now on; ${person.name} is signed out of the server. Tablets learn it when they meet the server.`}
      label="SET THE PASSCODE"
      lacks={passcode.length < LEAST ? 'six figures or more' : undefined}
      {...{ asked, onBack }}
      onDone={write}
    >
      <PasscodeField label="Passcode" value={passcode} onText={setPasscode} />
    </AskedForm>
  );
}

const pathOf = ({ person }: PersonRow, what: 'role' | 'passcode') =>
  `/api/people/${encodeURIComponent(person)}/${what}`;

function PasscodeField(props: { label: string; value: string; onText: (text: string) => void }) {
  return <TextField {...props} type="password" autocomplete="new-password" />;
}

function RoleKeys(props: {
  chosen: string | null;
  held: string | null;
  onChoose: (role: string) => void;
}) {
  return (
    <KeyRow label="Role" apart="desk">
      {ROLES.filter((role) => role !== props.held).map((role) => (
        <DeskKey
          key={role}
          label={roleWords(role)}
          chosen={role === props.chosen}
          onPress={() => props.onChoose(role)}
        />
      ))}
    </KeyRow>
  );
}
