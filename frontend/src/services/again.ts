/** Brings what was derived up to the rules of this build, before anybody works with it. */

import { forget, isWorkedOut, type Progress, workOutAgain } from '../storage/again';
import type { BookStore } from '../storage/database';
import { databaseName } from '../storage/schema';
import type { Turns } from './locks';

/** What is told meanwhile: how far it is, or that another tab is in the way. */
export type AgainStep = Progress | 'waits';

export interface AgainTold {
  tell(step: AgainStep): void;
  /** It failed for this reason: true tries again, false goes on with what there is. */
  failed(reason: string): Promise<boolean>;
}

export const TELLS_NOBODY: AgainTold = { tell() {}, failed: async () => false };

/**
 * Works the book out again if it was derived by other rules, in one tab while the others wait.
 * What it returns lets other tabs, of a later build, do so in turn.
 */
export async function bringUp(
  store: BookStore,
  rules: string,
  turns: Turns,
  told: AgainTold,
): Promise<() => void> {
  const name = `${databaseName(store.book)} rules`;
  const waits = () => told.tell('waits');
  const beside = () => turns.beside(name, waits);
  const leave = await beside();
  if (await isWorkedOut(store, rules)) return leave;
  leave();
  await turns.alone(name, () => untilDone(store, rules, told), waits);
  return beside();
}

async function untilDone(store: BookStore, rules: string, told: AgainTold): Promise<void> {
  for (;;) {
    try {
      // Another tab may have done it while this one waited.
      if (!(await isWorkedOut(store, rules)))
        await workOutAgain(store, rules, (progress) => told.tell(progress));
      return;
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      if (await told.failed(reason)) continue;
      await forget(store).catch(() => {}); // It takes room, and what is derived goes on.
      return;
    }
  }
}
