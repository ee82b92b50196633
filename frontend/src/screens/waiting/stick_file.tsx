import { useState } from 'preact/hooks';
import { announce, ErrorFrame, Key } from '../../furniture';
import type { Shop } from '../../services/shop';
import type { StickFile } from '../../services/shop_stick';
import { awake } from '../frame/awake';
import { useStatus } from '../frame/title';
import { useTrouble } from '../frame/trouble';
import { openSink } from './sinks';

/** A memory-stick file on its way, or written: for a server that can't be reached. */
export function useStickFile(shop: Shop) {
  const line = useStatus(shop);
  const { trouble, busy, run } = useTrouble();
  const [step, setStep] = useState<[number, number] | null>(null);
  const [written, setWritten] = useState<StickFile | null>(null);
  const write = () =>
    run(async () => {
      const name = shop.stick.name();
      const sink = await openSink(`${name}.zip`);
      if (!sink) return;
      setWritten(null);
      try {
        const file = await awake(() =>
          shop.stick.write(name, sink, (done, of) => setStep([done, of])),
        );
        await sink.end();
        setWritten(file);
        announce(`${file.name} is written.`);
      } catch (error) {
        await sink.abandon();
        throw error;
      } finally {
        setStep(null);
      }
    });
  const waits = line && line.waiting.entries + line.waiting.files > 0;
  const whyNot = busy ? 'being written …' : waits ? undefined : 'nothing waits';
  return {
    key: (
      <Key
        label={'WRITE A\nFILE'}
        size="inside"
        second="for a memory stick"
        unavailable={whyNot}
        onPress={() => void write()}
      />
    ),
    told: <Told {...{ step, written, trouble }} />,
  };
}

function Told(props: {
  step: [number, number] | null;
  written: StickFile | null;
  trouble: { what: string; todo: string } | null;
}) {
  const { step, written, trouble } = props;
  return (
    <>
      {step && (
        <p class="waiting-step">
          <progress aria-label="Memory-stick file" value={step[0]} max={step[1]} /> {step[0]} of{' '}
          {step[1]} photographs written
        </p>
      )}
      {trouble && (
        <ErrorFrame
          title="The file was not written."
          text={`${trouble.what} ${trouble.todo} Everything waits here as before.`}
        />
      )}
      {written && (
        <section class="waiting-file" role="status">
          <h2>Memory-stick file written</h2>
          <p>
            <strong>{written.name}</strong> · {contents(written)}
          </p>
          <p>
            Nothing is marked as sent: it waits here until the server has it. A lead or the records
            clerk takes the file in at a desk, under People.
          </p>
          {written.left_out > 0 && (
            <p>
              <strong>{written.left_out} photographs had no room in one file of 4 GB.</strong> Have
              this one taken in, send once, then write the rest.
            </p>
          )}
          {written.damaged > 0 && (
            <ErrorFrame
              title={`${written.damaged} photographs no longer read back as they were taken.`}
              text="They are not in the file. Tell the lead before this tablet is used on."
            />
          )}
        </section>
      )}
    </>
  );
}

/** "12 entries, 5 photographs, 14.2 MB". */
function contents({ entries, files, size_bytes }: StickFile): string {
  const size =
    size_bytes < 1e6 ? `${Math.ceil(size_bytes / 1e3)} kB` : `${(size_bytes / 1e6).toFixed(1)} MB`;
  const counted = (count: number, one: string, many: string) =>
    `${count} ${count === 1 ? one : many}`;
  return `${counted(entries, 'entry', 'entries')}, ${counted(files, 'photograph', 'photographs')}, ${size}`;
}
