import { useState } from 'preact/hooks';
import { DeskKey } from '../../furniture';
import type { Shop } from '../../services/shop';
import { TextField } from '../frame/fields';
import { useTrouble } from '../frame/trouble';
import { AskedForm } from './asked_form';
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
      <div class="people-head">
        <h1>Devices</h1>
      </div>
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
                    <DeskKey
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
  const asked = useTrouble();
  const end = () =>
    asked.run(async () => {
      await shop.api.post(`/api/devices/${encodeURIComponent(device.device)}/end`, { reason });
      await onDone();
    });
  const waits = device.unsent
    ? ` When last here it had ${device.unsent} entries or files not yet sent.`
    : '';
  return (
    <AskedForm
      title={`End ${deviceName(device)}`}
      text={`The server lets it in no more. What waits on it stays stored there and is sent once it is enrolled again.${waits}`}
      label="END THIS DEVICE"
      lacks={reason.trim() ? undefined : 'write the reason'}
      {...{ asked, onBack }}
      onDone={end}
    >
      <TextField label="Reason: lost, handed back, …" value={reason} onText={setReason} />
    </AskedForm>
  );
}
