import { useEffect, useRef, useState } from 'preact/hooks';
import { announce, ErrorFrame, Key, Sheet, TitleBlock } from '../../furniture';
import type { RefusalShape, ScreenProps, Shop } from '../../services/shop';
import { awake } from '../frame/awake';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { CountedIndex } from '../questions/counted_index';
import { LostQuestion } from './lost_question';
import { type Step, sendFile, type Taken, takeIn, whyNot } from './sending';
import { TakenBefore } from './taken_before';
import { TakenTable } from './taken_table';
import './screen.css';

/** Books in what a tablet wrote to a memory stick because it could not reach the server. */
export default function TakeIn({ shop, go }: ScreenProps) {
  const title = useDeskTitle(shop, 'Take in');
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/take-in" {...{ shop, go }} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      <div class="take-in">
        <Taking shop={shop} />
        <section class="take-in-before">
          <h2>Taken in before</h2>
          <TakenBefore shop={shop} />
          <Key label="PEOPLE AND DEVICES" size="small" onPress={() => go('/people')} />
        </section>
      </div>
    </Sheet>
  );
}

interface Stage {
  file?: File;
  /** Its name at the server, once all of it is there. */
  sent?: string;
  step?: Step | undefined;
  taken?: Taken | undefined;
  refused?: RefusalShape | undefined;
}

function Taking({ shop }: { shop: Shop }) {
  const picker = useRef<HTMLInputElement>(null);
  const [stage, setStage] = useState<Stage>({});
  const { file, step, taken, refused } = stage;
  const work = useWork(shop, setStage);
  const unavailable = step ? 'a moment …' : whyNot(shop);
  return (
    <section class="take-in-now">
      <h1>Take in a memory-stick file</h1>
      <ol class="take-in-route">
        <li>
          <p>
            On the tablet, under <b>Waiting</b>: WRITE A FILE. It holds what the server lacks,
            signed by the tablet.
          </p>
        </li>
        <li>
          <p>
            Here: choose it. All of it is checked before anything is stored: every hash, the
            signature, the book, the tablet.
          </p>
        </li>
        <li>
          <p>The tablet still counts it as waiting until it meets the server, which then has it.</p>
        </li>
      </ol>
      <input
        ref={picker}
        type="file"
        accept=".zip,application/zip"
        class="spoken"
        aria-label="Memory-stick file"
        tabIndex={-1}
        disabled={unavailable !== undefined}
        onChange={(event) => {
          const [chosen] = event.currentTarget.files ?? [];
          event.currentTarget.value = '';
          if (chosen) void work({ file: chosen }, '');
        }}
      />
      <Key
        label={taken || refused ? 'CHOOSE ANOTHER FILE' : 'CHOOSE THE FILE'}
        kind="main"
        letters={24}
        second={step && file ? file.name : 'A-….zip from the memory stick'}
        unavailable={unavailable}
        onPress={() => picker.current?.click()}
      />
      {step && (
        <p class="take-in-step">
          <progress aria-label="Taking the file in" value={step.done} max={step.of} />
          <span>{stepWords(step)}</span>
        </p>
      )}
      {refused?.code === 'lost_tablet' ? (
        <LostQuestion
          shop={shop}
          why={refused.message}
          onReason={(reason) => void work(stage, reason)}
          onBack={() => setStage({})}
        />
      ) : (
        refused && (
          <ErrorFrame title={refused.message} text={refused.hint || 'Nothing was stored.'} />
        )
      )}
      {taken && <TakenTable taken={taken} name={file?.name ?? ''} />}
    </section>
  );
}

/** Sends a file where it is not there yet, and has it taken in; a screen left sets nothing. */
function useWork(shop: Shop, setStage: (stage: Stage) => void) {
  const open = useRef(true);
  useEffect(() => {
    open.current = true;
    return () => {
      open.current = false;
    };
  }, []);
  return async (from: Stage, reason: string) => {
    const { file } = from;
    if (!file) return;
    let { sent } = from;
    const show = (stage: Stage) =>
      open.current && setStage({ file, ...(sent && { sent }), ...stage });
    const tell = (step: Step) => show({ step });
    tell({ words: 'bytes sent to the server', done: 0, of: file.size });
    try {
      const taken = await awake(async () => {
        sent ??= await sendFile(shop, file, tell);
        return takeIn(shop, sent, reason, tell);
      });
      show({ taken });
      announce('The file is taken in.');
      void shop.exchange.sendNow();
    } catch (error) {
      const { code = '', message = String(error), hint = '' } = error as Partial<RefusalShape>;
      show({ refused: { code, message, hint } });
    }
  };
}

function stepWords({ words, done, of }: Step): string {
  if (!words.startsWith('bytes')) return `${done} of ${of} ${words}`;
  const mb = (bytes: number) => (bytes / 1e6).toFixed(1);
  return `${mb(done)} of ${mb(of)} MB sent to the server`;
}
