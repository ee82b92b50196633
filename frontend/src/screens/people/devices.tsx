import { useState } from 'preact/hooks';
import { ErrorFrame, Key, Question } from '../../furniture';
import type { Shop } from '../../services/shop';
import { TextField } from '../frame/fields';
import { useTrouble } from '../frame/trouble';
import { Opened } from './fields';
import {
  byUse,
  type DeviceRow,
  deviceName,
  minuteOf,
  type Register,
  unsentWords,
  whyNot,
} from './register';

interface Props {
  shop: Shop;
  register: Register;
  onChanged: () => Promise<void>;
}

/** Tablets and desks: who enrolled them, when they were last here, what waits on them. */
export function Devices({ shop, register, onChanged }: Props) {
  const [ending, setEnding] = useState<DeviceRow | null>(null);
  const { people, devices } = register;
  const names = new Map(people.map(({ person, name }) => [person, name]));
  return (
    <section class="people-part">
      <h1>Devices</h1>
      {devices === null && (
        <p>Devices are shown to a lead who is signed in with the server in reach.</p>
      )}
      {devices?.length === 0 && <p>No device is enrolled yet.</p>}
      {ending && (
        <EndForm
          key={ending.device}
          shop={shop}
          device={ending}
          onBack={() => setEnding(null)}
          onDone={async () => {
            setEnding(null);
            await onChanged();
          }}
        />
      )}
      {devices !== null && devices.length > 0 && (
        <table class="people-table">
          <thead>
            <tr>
              {['Device', 'Enrolled', 'Last here', 'Waiting on it', 'Let in'].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
              <th scope="col">
                <span class="spoken">Keys</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {byUse(devices).map((one) => (
              <tr key={one.device} class={one.shut ? 'people-out' : ''}>
                <th scope="row">
                  {deviceName(one)}
                  {one.device === shop.device?.tablet && <small>this one</small>}
                </th>
                <td>
                  {one.enrolled_at.slice(0, 10)}
                  <small>by {names.get(one.enrolled_by) ?? one.enrolled_by}</small>
                </td>
                <td>{minuteOf(one.last_seen)}</td>
                <td>{unsentWords(one.unsent)}</td>
                <td>{one.shut ?? 'yes'}</td>
                <td class="people-keys">
                  {!one.shut && (
                    <Key
                      size="small"
                      label="END THIS DEVICE"
                      spoken={`END THIS DEVICE: ${deviceName(one)}`}
                      unavailable={whyNot(shop)}
                      onPress={() => setEnding(one)}
                    />
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

/** Ends a device, with its reason. */
function EndForm(props: {
  shop: Shop;
  device: DeviceRow;
  onBack: () => void;
  onDone: () => Promise<void>;
}) {
  const { shop, device, onBack, onDone } = props;
  const [reason, setReason] = useState('');
  const { trouble, busy, run } = useTrouble();
  const end = () =>
    run(async () => {
      await shop.api.post(`/api/devices/${encodeURIComponent(device.device)}/end`, { reason });
      await onDone();
    });
  const waits = device.unsent
    ? ` When last here it had ${device.unsent} entries or files not yet sent.`
    : '';
  return (
    <Question
      title={`End ${deviceName(device)}`}
      text={`The server lets it in no more. What waits on it stays stored there and is sent once it is enrolled again.${waits}`}
      keys={
        <>
          <Key
            label="END THIS DEVICE"
            kind="main"
            unavailable={busy ? 'a moment …' : reason.trim() ? undefined : 'write the reason'}
            onPress={end}
          />
          <Key label="BACK" onPress={onBack} />
        </>
      }
    >
      <Opened>
        <TextField label="Reason: lost, handed back, …" value={reason} onText={setReason} />
        {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      </Opened>
    </Question>
  );
}
