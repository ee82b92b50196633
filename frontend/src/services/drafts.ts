/** Unfinished keystrokes by person and screen, kept at every key. */

import type { BookStore } from '../storage/database';
import { type QuickCopy, quickCopy } from '../storage/quick';
import type { Drafts, Json, Session } from './shop';

export class KeptDrafts implements Drafts {
  constructor(
    private readonly store: BookStore,
    private readonly quick: QuickCopy = quickCopy(),
  ) {}

  async read<T extends Json>(session: Session, screen: string): Promise<T | null> {
    const newest = this.quick.read(nameOf(session, screen));
    if (newest !== null) return JSON.parse(newest) as T;
    const key: [string, string] = [session.person, screen];
    const kept = await this.store.read(['drafts'], (tx) => tx.objectStore('drafts').get(key));
    return (kept?.value as T | undefined) ?? null;
  }

  async write(session: Session, screen: string, value: Json): Promise<void> {
    const name = nameOf(session, screen);
    const text = JSON.stringify(value);
    this.quick.write(name, text);
    const row = { person: session.person, screen, value };
    await this.store.write(['drafts'], (tx) => tx.objectStore('drafts').put(row), 'the last key');
    if (this.quick.read(name) === text) this.quick.remove(name);
  }

  async clear(session: Session, screen: string): Promise<void> {
    this.quick.remove(nameOf(session, screen));
    const key: [string, string] = [session.person, screen];
    await this.store.write(['drafts'], (tx) => tx.objectStore('drafts').delete(key));
  }
}

function nameOf(session: Session, screen: string): string {
  return `${session.person}/${screen}`;
}
