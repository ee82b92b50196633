/** Databases that fail on purpose, for tests. */

import type { Database, OpenHooks } from '../../../frontend/src/storage/schema';
import { openBookDatabase } from '../../../frontend/src/storage/schema';

/** Opens real databases; the first `times` transactions find the connection lost. */
export function losingConnection(times: number, message: string, name = 'UnknownError') {
  const opened: Database[] = [];
  let left = times;
  const open = async (book: string, hooks: OpenHooks): Promise<Database> => {
    const database = await openBookDatabase(book, hooks);
    opened.push(database);
    return new Proxy(database, {
      get(target, key) {
        if (key === 'transaction' && left > 0) {
          return () => {
            left -= 1;
            throw new DOMException(message, name);
          };
        }
        const value = Reflect.get(target, key, target);
        return typeof value === 'function' ? value.bind(target) : value;
      },
    });
  };
  return { open, opened };
}

/** Makes every put into one store fail for want of room, until the returned way to stop. */
export function fillUp(storeName: string): () => void {
  const real = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (this: IDBObjectStore, value, key?) {
    if (this.name === storeName) throw new DOMException('no room', 'QuotaExceededError');
    return key === undefined ? real.call(this, value) : real.call(this, value, key);
  };
  return () => {
    IDBObjectStore.prototype.put = real;
  };
}

/** Opens real databases; the first answer to a commit that touches a store is lost on the way. */
export function losingAnswers(storeName: string) {
  let lost = 0;
  const open = async (book: string, hooks: OpenHooks): Promise<Database> => {
    const database = await openBookDatabase(book, hooks);
    const transaction = (...asked: Parameters<Database['transaction']>) => {
      const tx = database.transaction(...asked);
      const touches = [...tx.objectStoreNames].includes(storeName as never);
      if (lost > 0 || tx.mode !== 'readwrite' || !touches) return tx;
      lost += 1;
      const done = tx.done.then(() => {
        throw new DOMException('Connection to Indexed Database server lost', 'UnknownError');
      });
      return bound(tx, { done });
    };
    return bound(database, { transaction });
  };
  return { open, lost: () => lost };
}

/** An object with some members of its own put in place. */
function bound<T extends object>(target: T, instead: Record<string, unknown>): T {
  return new Proxy(target, {
    get(_target, key) {
      if (typeof key === 'string' && Object.hasOwn(instead, key)) return instead[key];
      const value = Reflect.get(target, key, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}
