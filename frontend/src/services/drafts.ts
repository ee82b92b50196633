/** Unfinished keystrokes by person and screen, and where each person was. */

import type { BookStore } from '../storage/database';
import type { Drafts, Json, Session } from './shop';

export class KeptDrafts implements Drafts {
  constructor(private readonly store: BookStore) {}

  async read<T extends Json>(session: Session, screen: string): Promise<T | null> {
    const key: [string, string] = [session.person, screen];
    const kept = await this.store.read(['drafts'], (tx) => tx.objectStore('drafts').get(key));
    return (kept?.value as T | undefined) ?? null;
  }

  async write(session: Session, screen: string, value: Json): Promise<void> {
    const row = { person: session.person, screen, value };
    await this.store.write(['drafts'], (tx) => tx.objectStore('drafts').put(row), 'the last key');
  }

  async clear(session: Session, screen: string): Promise<void> {
    const key: [string, string] = [session.person, screen];
    await this.store.write(['drafts'], (tx) => tx.objectStore('drafts').delete(key));
  }
}
