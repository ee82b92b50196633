import { useState } from 'preact/hooks';
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

/** What happened and what to do; stays until the next try. */
export function TroubleNote({ trouble }: { trouble: Trouble | null }) {
  return trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />;
}
