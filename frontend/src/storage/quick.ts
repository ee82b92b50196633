/** A copy of the last keys that is written at once, before the page can go away. */

export interface QuickCopy {
  read(name: string): string | null;
  write(name: string, text: string): void;
  remove(name: string): void;
}

const START = 'skinpin.keys/';

/**
 * The browser's own synchronous store. A database write begun at the last key is lost when the
 * page is left in the same moment; this one is not. A browser that refuses it keeps nothing here.
 */
export function quickCopy(store: () => Storage = () => localStorage): QuickCopy {
  const quietly = <T>(work: (kept: Storage) => T): T | null => {
    try {
      return work(store());
    } catch {
      return null;
    }
  };
  return {
    read: (name) => quietly((kept) => kept.getItem(START + name)),
    write: (name, text) => void quietly((kept) => kept.setItem(START + name, text)),
    remove: (name) => void quietly((kept) => kept.removeItem(START + name)),
  };
}
