/** Who is at this browser: signing in with and without a network, and changing over. */

import { Refused } from '../domain/errors';
import { isFields } from '../domain/verdicts';
import type { BookStore } from '../storage/database';
import type { Clock } from './clock';
import { passcodeHolds, type Unlock, waitAfter_ms } from './passcode';
import { isAway, type Server } from './server';
import type { People, PersonListed, RefusalShape, Session } from './shop';

/** A person as the server lists one to an enrolled browser. */
export interface ListedByServer {
  person: string;
  name: string;
  role: string | null;
  stamp_number: string | null;
  role_entry?: string | null;
  unlock?: Unlock | null;
}

interface Tries {
  wrong: number;
  until_ms: number;
}

const SESSION_KEPT_MS = 12 * 3_600_000;
const NOTED_AFTER_MS = 3000;

export interface PeopleHost {
  server: Server;
  clock: Clock;
  /** null: this browser is not enrolled; then only the server can check a passcode. */
  store(): BookStore | null;
  mayDecide(): boolean;
  /** The session has changed. */
  tell(session: Session | null): void;
}

export class KeptPeople implements People {
  ended: RefusalShape | null = null;
  private session: Session | null = null;
  private noting: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly host: PeopleHost) {}

  async list(): Promise<PersonListed[]> {
    const kept = await this.kept();
    const people = kept.length > 0 ? kept : await this.fetch();
    const isLast = (one: PersonListed) => Number(one.role === '');
    return people.map(listed).sort((a, b) => isLast(a) - isLast(b) || a.name.localeCompare(b.name));
  }

  /** Takes the list of people from the server; called at each exchange. */
  async fetch(): Promise<ListedByServer[]> {
    const people = await this.host.server.get<ListedByServer[]>('/api/people');
    if (JSON.stringify(sorted(people)) !== JSON.stringify(sorted(await this.kept()))) {
      await this.keep(people);
    }
    await this.refresh();
    return people;
  }

  async unlock(person: string, passcode: string): Promise<Session> {
    await this.refuseTooSoon(person);
    const one = await this.withRole(person);
    const online = await this.check(person, passcode, one?.unlock ?? null);
    await this.keepTries(person, { wrong: 0, until_ms: 0 });
    await this.begin(one ?? (await this.find(person)) ?? nobody(person), online);
    if (!online) void this.signInBehind(person, passcode);
    return this.session as Session;
  }

  async confirm(session: Session, passcode: string): Promise<void> {
    await this.refuseTooSoon(session.person);
    const one = await this.withRole(session.person);
    await this.check(session.person, passcode, one?.unlock ?? null);
    await this.keepTries(session.person, { wrong: 0, until_ms: 0 });
  }

  async leave(): Promise<void> {
    await this.forgetSession();
    this.set(null);
    await this.host.server.post('/api/sign-out').catch(() => {});
  }

  /** Goes on with the session that was open before a reload. */
  async resume(): Promise<void> {
    const kept = (await this.meta('session')) as { person: string; used_ms: number } | undefined;
    if (!kept || this.host.clock.raw_ms() - kept.used_ms > SESSION_KEPT_MS) return;
    const one = await this.find(kept.person);
    if (one && !(await this.hasRole(one))) return this.endFor(one);
    if (one) this.goOn(one);
    void this.askSession();
  }

  /** Opens the session again; that it was used is noted once the first sheet is painted. */
  private goOn(one: ListedByServer): void {
    this.ended = null;
    this.set(this.sessionOf(one, false));
    const store = this.host.store();
    this.noting = setTimeout(() => {
      if (this.host.store() !== store) return;
      this.keepSession(one).catch(() => {}); // The session stands; it is noted at the next start.
    }, NOTED_AFTER_MS);
  }

  private async keepSession({ person }: ListedByServer): Promise<void> {
    clearTimeout(this.noting);
    const kept = { person, used_ms: this.host.clock.raw_ms() };
    await this.host.store()?.write(['meta'], (tx) => tx.objectStore('meta').put(kept, 'session'));
  }

  private async forgetSession(): Promise<void> {
    clearTimeout(this.noting);
    await this.host.store()?.write(['meta'], (tx) => tx.objectStore('meta').delete('session'));
  }

  /** Keeps the open session in the book that this browser has just been enrolled in. */
  async adopt(): Promise<void> {
    if (!this.session) return;
    const one = await this.find(this.session.person);
    if (one) await this.begin(one, this.session.online);
  }

  async names(): Promise<Record<string, string>> {
    const people = await this.kept();
    return Object.fromEntries(people.map(({ person, name }) => [person, name]));
  }

  /** What people are called in histories: "Inspector 1 (11)". */
  async labels(): Promise<Record<string, string>> {
    const people = await this.kept();
    const label = (one: ListedByServer) =>
      one.stamp_number ? `${one.name} (${one.stamp_number})` : one.name;
    return Object.fromEntries(people.map((one) => [one.person, label(one)]));
  }

  /** Takes role and authority of the open session anew from what is known now. */
  async refresh(): Promise<void> {
    if (!this.session) return;
    const one = await this.find(this.session.person);
    if (!one || !this.session) return;
    if (await this.hasRole(one)) this.set(this.sessionOf(one, this.session.online));
    else await this.endFor(one);
  }

  /** Returns a person as far as known here; refuses one whose role was withdrawn. */
  private async withRole(person: string): Promise<ListedByServer | null> {
    const one = await this.find(person);
    if (!one || (await this.hasRole(one))) return one;
    // The role may have been given again since this browser met its server.
    await this.fetch().catch(() => []);
    const now = await this.find(person);
    if (now && (await this.hasRole(now))) return now;
    throw noRole(one.name);
  }

  /** Whether a person has a role, by the server's list and by what stands in the book here. */
  private async hasRole({ person, role }: ListedByServer): Promise<boolean> {
    if (!role) return false;
    const row = await this.host
      .store()
      ?.read(['standing'], (tx) => tx.objectStore('standing').get(person));
    const stands = Object.values(row?.values ?? {}).flatMap((set) =>
      'role' in set ? [set.role] : [],
    );
    const gives = (value: unknown) => isFields(value) && typeof value.role === 'string';
    return stands.length === 0 || stands.some(gives);
  }

  /** Ends the session of a person whose role was withdrawn; drafts stay stored. */
  private async endFor({ name }: Pick<ListedByServer, 'name'>): Promise<void> {
    const { code, message, hint } = noRole(name);
    await this.forgetSession();
    this.ended = { code, message, hint };
    this.set(null);
  }

  private async keep(people: ListedByServer[]): Promise<void> {
    await this.host.store()?.write(['people'], async (tx) => {
      await tx.objectStore('people').clear();
      for (const one of people) await tx.objectStore('people').put({ ...one });
    });
  }

  private async begin(one: ListedByServer, online: boolean): Promise<void> {
    await this.keepSession(one);
    this.ended = null;
    this.set(this.sessionOf(one, online));
  }

  private sessionOf(one: ListedByServer, online: boolean): Session {
    const { person, name, role, stamp_number, role_entry } = one;
    const may_decide = this.host.mayDecide();
    return {
      ...{ person, name, role: role ?? '', stamp_number, role_entry: role_entry ?? '' },
      ...{ online, may_decide },
    };
  }

  private set(session: Session | null): void {
    if (JSON.stringify(session) === JSON.stringify(this.session)) return;
    this.session = session;
    this.host.tell(session);
  }

  /** Returns whether the server took the passcode; throws where it is wrong. */
  private async check(person: string, passcode: string, unlock: Unlock | null): Promise<boolean> {
    if (unlock && (await passcodeHolds(passcode, unlock))) return false;
    try {
      await this.host.server.post('/api/sign-in', { person, passcode });
      return true;
    } catch (error) {
      if (!isAway(error) || unlock) await this.countWrong(person);
      if (isAway(error)) throw unlock ? wrongPasscode() : notKnownHere(error);
      throw error;
    }
  }

  private async signInBehind(person: string, passcode: string): Promise<void> {
    try {
      await this.host.server.post('/api/sign-in', { person, passcode });
    } catch (error) {
      const isOut = error instanceof Refused && error.code === 'no_role';
      if (isOut && this.session?.person === person) await this.endFor(this.session);
      return; // Else the session stands without the server; documents ask for it when needed.
    }
    this.setOnline(person);
  }

  private async askSession(): Promise<void> {
    try {
      const found = await this.host.server.get<{ person?: string } | null>('/api/session');
      if (found?.person) this.setOnline(found.person);
    } catch {
      // Not signed in at the server, or no network: the session stands without it.
    }
  }

  private setOnline(person: string): void {
    if (this.session?.person === person) this.set({ ...this.session, online: true });
  }

  private async refuseTooSoon(person: string): Promise<void> {
    const wait_ms = (await this.tries(person)).until_ms - this.host.clock.raw_ms();
    if (wait_ms <= 0 || wait_ms > 300_000) return;
    const seconds = Math.ceil(wait_ms / 1000);
    throw new Refused(
      'too_soon',
      `The passcode was wrong several times. Wait ${seconds} seconds.`,
      'Nothing is wiped. A lead can set a new passcode.',
    );
  }

  private async countWrong(person: string): Promise<void> {
    const wrong = (await this.tries(person)).wrong + 1;
    const until_ms = this.host.clock.raw_ms() + waitAfter_ms(wrong);
    await this.keepTries(person, { wrong, until_ms });
  }

  private async tries(person: string): Promise<Tries> {
    const kept = await this.meta(`tries:${person}`);
    return (kept as Tries | undefined) ?? { wrong: 0, until_ms: 0 };
  }

  private async keepTries(person: string, tries: Tries): Promise<void> {
    await this.host
      .store()
      ?.write(['meta'], (tx) => tx.objectStore('meta').put(tries, `tries:${person}`));
  }

  private async meta(key: string): Promise<unknown> {
    return this.host.store()?.read(['meta'], (tx) => tx.objectStore('meta').get(key));
  }

  private async kept(): Promise<ListedByServer[]> {
    const found = await this.host
      .store()
      ?.read(['people'], (tx) => tx.objectStore('people').getAll());
    return (found ?? []) as unknown as ListedByServer[];
  }

  private async find(person: string): Promise<ListedByServer | null> {
    const people = await this.kept();
    const here = people.find((one) => one.person === person);
    if (here || this.host.store()) return here ?? null;
    const there = await this.host.server.get<ListedByServer[]>('/api/people').catch(() => []);
    return there.find((one) => one.person === person) ?? null;
  }
}

function sorted(people: readonly ListedByServer[]): ListedByServer[] {
  return [...people].sort((a, b) => (a.person < b.person ? -1 : 1));
}

function listed(one: ListedByServer): PersonListed {
  const { person, name, role, stamp_number } = one;
  return { person, name, role: role ?? '', stamp_number, offline: Boolean(one.unlock) };
}

function nobody(person: string): ListedByServer {
  return { person, name: person, role: null, stamp_number: null };
}

function noRole(name: string): Refused {
  return new Refused(
    'no_role',
    `${name} has no role in this book any more and can’t sign in.`,
    'Nothing recorded is lost: records stay in the book, drafts stay stored here. Ask a lead.',
  );
}

function wrongPasscode(): Refused {
  return new Refused('wrong_passcode', 'The passcode is not right.', 'Try again.');
}

function notKnownHere(cause: unknown): Refused {
  return new Refused(
    'not_known_here',
    'This tablet can’t check the passcode yet, and the server does not answer.',
    'Let the tablet meet the server once; after that it needs no network.',
    { cause },
  );
}
