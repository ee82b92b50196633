/** A made-up workshop for tests: a server with its people, and shops of enrolled browsers. */

import { type Around, type OpenShop, openShop } from '../../../frontend/src/services/open';
import { passcodeCheck } from '../../../frontend/src/services/passcode';
import type { Fetch } from '../../../frontend/src/services/server';
import { sha256OfBytes } from '../../../frontend/src/storage/files';
import { BOOK, FakeServer, FITTER, INSPECTOR, LEAD } from './server';

export const START_MS = Date.UTC(2025, 10, 3, 8, 15, 30);
export const PASSCODES: Record<string, string> = {
  [LEAD]: '314159',
  [INSPECTOR]: '271828',
  [FITTER]: '161803',
};

export const DEFINITION = {
  name: 'Marram',
  constructor: '2603',
  issue: '1',
  unit: 'in',
  structures: [
    {
      name: 'Hull',
      axis: 'Sta',
      unit: 'in',
      datum: 'bow',
      positive: 'aft',
      hands: ['P', 'S', 'C'],
      members: [
        { name: 'F5', kind: 'frame', station: '60', main: false },
        { name: 'F6', kind: 'frame', station: '70', main: true },
        { name: 'F7', kind: 'frame', station: '82', main: false },
      ],
      strakes: ['K', 'B1', 'B2', 'B3', 'C'],
      plating: [{ strakes: [0, 4], thickness: '0.064', part: 'bottom plating', material: 'AL' }],
      faces: ['inner', 'outer'],
    },
  ],
  zones: [
    {
      zone: '111',
      title: 'Bow port',
      structure: 'Hull',
      hand: 'P',
      along: [null, null],
      strakes: null,
    },
    {
      zone: '112',
      title: 'Bow starboard',
      structure: 'Hull',
      hand: 'S',
      along: [null, null],
      strakes: null,
    },
    {
      zone: '110',
      title: 'Keel',
      structure: 'Hull',
      hand: 'C',
      along: [null, null],
      strakes: null,
    },
  ],
  views: [],
};

export const PLACE = {
  structure: 'Hull',
  hand: 'P' as const,
  member: 'F6',
  offset: { value: '2.0', unit: 'in' as const },
  strakes: ['K', 'B1'],
  face: 'inner',
  precision: 'exact' as const,
};

/** Numbers that look random and come again with the same seed. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

export class Workshop {
  now_ms = START_MS;
  readonly server = new FakeServer(() => this.now_ms);
  private readonly random: () => number;
  private readonly shops: OpenShop[] = [];
  private readonly locked = new Set<string>();

  constructor(seed = 7) {
    this.random = seeded(seed);
  }

  /** The set-up of the book, its people, an airframe and a standard. */
  async open(): Promise<this> {
    const { server } = this;
    const definition = await this.addFile(DEFINITION);
    const role = (word: string) => ({ role: word, from: '2025-01-06' });
    const stamp = (number: string) => ({ number, from: '2025-01-06' });
    const [, lead] = await server.write(LEAD, [
      {
        record: 'book',
        kind: 'book',
        set: { workshop: 'Marram', time_zone: 'Europe/London', unit: 'in', signatures: 'not yet' },
      },
      {
        record: LEAD,
        kind: 'person',
        set: { name: 'Lead', role: role('lead'), stamp_number: stamp('1') },
      },
    ]);
    const relies = [lead?.id as string];
    const found: Record<string, string> = { [LEAD]: lead?.id as string };
    for (const [person, name, word, number] of [
      [INSPECTOR, 'Inspector 1', 'inspector', '11'],
      [FITTER, 'Fitter 1', 'fitter', '21'],
    ] as const) {
      const set = { name, role: role(word), stamp_number: stamp(number) };
      const [entry] = await server.write(LEAD, [{ record: person, kind: 'person', set, relies }]);
      found[person] = entry?.id as string;
    }
    const airframe = { type: 'Marram', constructor: '2603', definition };
    await server.write(LEAD, [{ record: 'airframe-1', kind: 'airframe', set: airframe, relies }]);
    const rows = [
      ...[
        [LEAD, 'Lead', 'lead', '1'],
        [INSPECTOR, 'Inspector 1', 'inspector', '11'],
      ],
      [FITTER, 'Fitter 1', 'fitter', '21'],
    ] as [string, string, string, string][];
    server.passcodes = { ...PASSCODES };
    for (const [person, name, role, stamp_number] of rows) {
      const way = { salt: 'c2FsdHNhbHRzYWx0', iterations: 11 };
      const unlock = { ...way, check: await passcodeCheck(PASSCODES[person] as string, way) };
      server.people.push({ person, name, role, stamp_number, role_entry: found[person], unlock });
    }
    return this;
  }

  /** A browser that opens the app; with the same databases it is the same browser again. */
  async shop(fetch = this.server.fetch as Fetch, given: Partial<Around> = {}): Promise<OpenShop> {
    const shop = await openShop(
      { newVersion: false, takeNewVersion: async () => {} },
      {
        fetch,
        raw_ms: () => this.now_ms,
        random: (count) =>
          Uint8Array.from({ length: count }, () => Math.floor(this.random() * 256)),
        status: {},
        withLock: (name, work) => this.withLock(name, work),
        ...given,
      },
    );
    this.shops.push(shop);
    return shop;
  }

  /** A tablet that is enrolled and has the whole book. */
  async tablet(fetch?: Fetch): Promise<OpenShop> {
    const shop = await this.shop(fetch);
    await shop.enrolment.enrol('123456');
    await shop.exchange.sendNow();
    return shop;
  }

  /** What a browser's own lock does: the name is held by one tab, the others do nothing. */
  private async withLock<T>(name: string, work: () => Promise<T>): Promise<T | null> {
    if (this.locked.has(name)) return null;
    this.locked.add(name);
    return work().finally(() => this.locked.delete(name));
  }

  async close(): Promise<void> {
    for (const shop of this.shops.splice(0)) await shop.close();
    for (const { name } of await indexedDB.databases()) {
      await new Promise((resolve) => {
        const asked = indexedDB.deleteDatabase(name as string);
        asked.onsuccess = resolve;
      });
    }
  }

  /** Puts a standard into the book, as the lead would. */
  async addStandard(value: { name: string; issue: string }): Promise<void> {
    const relies = [this.server.people[0]?.role_entry as string];
    const set = await this.addFile(value);
    await this.server.write(LEAD, [{ record: 'standard-1', kind: 'standard', set, relies }]);
  }

  private async addFile(value: { name: string; issue: string }) {
    const bytes = new TextEncoder().encode(JSON.stringify(value)).buffer as ArrayBuffer;
    const sha256 = await sha256OfBytes(bytes);
    this.server.files.set(sha256, bytes);
    return { name: value.name, issue: value.issue, sha256 };
  }
}

export { BOOK, FITTER, INSPECTOR, LEAD };
