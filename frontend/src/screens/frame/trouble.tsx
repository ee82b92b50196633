import { useRef, useState } from 'preact/hooks';
import { ErrorFrame } from '../../furniture';
import { troubleOf } from './words';

export interface Trouble {
  what: string;
  todo: string;
}

/** Runs what a key starts; a refusal becomes a trouble that stays until dealt with. */
export function useTrouble() {
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const [busy, setBusy] = useState(false);
  const run = async (work: () => Promise<void>) => {
    if (busy) return;
    setBusy(true);
    setTrouble(null);
    try {
      await work();
    } catch (error) {
      setTrouble(troubleOf(error));
    } finally {
      setBusy(false);
    }
  };
  return { trouble, busy, run, setTrouble };
}

/**
 * The same for keys that are pressed faster than a tablet stores: none is dropped, and each thing
 * is done after the one before it.
 */
export function useTroubleInOrder() {
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const last = useRef<Promise<void>>(Promise.resolve());
  const run = (work: () => Promise<void>) => {
    setTrouble(null);
    last.current = last.current.then(work).catch((error) => setTrouble(troubleOf(error)));
    return last.current;
  };
  return { trouble, run, setTrouble };
}

/** What happened and what to do; stays until the next try. */
export function TroubleNote({ trouble }: { trouble: Trouble | null }) {
  return trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />;
}
