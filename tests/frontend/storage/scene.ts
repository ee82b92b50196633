/** A made-up log for tests: few people, records and fields, so that they collide. */

import { sha256Hex } from '@sync/canonical';
import { type Draft, writeAct } from '@sync/chain';
import { newClock, newWriter } from '@sync/clock';
import { type Standing, seenFor, standing } from '@sync/standing';
import { judgeAll } from '../../../frontend/src/domain/ledger';
import { fieldsToSee } from '../../../frontend/src/domain/moves';
import { leadsFrom, MOVES } from '../../../frontend/src/domain/permissions';
import { knownOf } from '../../../frontend/src/domain/verdicts';
import type { Arrival } from '../../../frontend/src/storage/derive';
import { countsOf } from './pure';

/** Rivets of one size, as designed. */
export const DESIGN = {
  ...{ head: '470', diameter: '1/8', alloy: '2117' },
  sheets: [{ thickness: { value: '0.064', unit: 'in' } }],
};
const sha256 = (text: string) => sha256Hex(text, crypto.subtle);

/** People with few records and few fields, who see only part of each other's work. */
export class Scene {
  readonly all: Arrival[] = [];
  private readonly chains = new Map<string, Awaited<ReturnType<typeof writeAct>>[0]>();
  private now_ms = Date.UTC(2025, 10, 3);
  roles: Record<string, string> = {};

  constructor(readonly random: () => number) {}

  pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.random() * list.length)] as T;
  }

  async act(device: string, by: string, drafts: Draft[]): Promise<string[]> {
    this.now_ms += 10;
    const bytes = new Uint8Array(8).map((_v, at) => device.charCodeAt(0) + at);
    const start = this.chains.get(device) ?? {
      clock: newClock(newWriter(bytes)),
      n: 0,
      prev: null,
    };
    const fields = { act: `act${this.all.length}`, by, device, wall: '2025-11-03T08:00:00+00:00' };
    const [chain, written] = await writeAct(start, this.now_ms, drafts, {
      ...fields,
      schema: 1,
      sha256,
    });
    this.chains.set(device, chain);
    for (const [entry, line] of written) this.all.push({ entry, line, sha256: await sha256(line) });
    return written.map(([entry]) => entry.id);
  }

  /** What an author has before them: most of what was written of a record. */
  private view(record: string): Standing {
    const entries = this.all.map(({ entry }) => entry);
    const counts = countsOf(judgeAll(entries, knownOf()));
    const mine = entries.filter((one) => one.record === record && this.random() < 0.95);
    return standing(mine, counts);
  }

  private seenBy(record: string, fields: readonly string[]) {
    return seenFor(this.view(record), fields);
  }

  async setUp(): Promise<void> {
    const role = (word: string) => ({ role: word, from: '2025-01-01' });
    const [, lead] = await this.act('server', 'lead', [
      { record: 'book', kind: 'book', set: { workshop: 'W', signatures: 'not yet' } },
      { record: 'lead', kind: 'person', set: { name: 'L', role: role('lead') } },
    ]);
    this.roles = { lead: lead as string };
    for (const word of ['inspector', 'fitter']) {
      const set = { name: word, role: role(word) };
      const draft = { record: word, kind: 'person', set, relies: [lead as string] };
      [this.roles[word] = ''] = await this.act('server', 'lead', [draft]);
    }
  }

  async step(): Promise<void> {
    const device = this.pick(['A', 'B', 'D']);
    const by = this.pick(['lead', 'inspector', 'fitter']);
    const record = this.pick(['d1', 'd2', 'd3']);
    const relies = [this.roles[by] as string];
    const chance = this.random();
    if (chance < 0.2) await this.capture(device, by, record, relies);
    else if (chance < 0.35) await this.photograph(device, by, record, relies);
    else if (chance < 0.4) await this.mark(device, by, record, relies);
    else if (chance < 0.45) await this.stamp(device, by, record, relies);
    else if (chance < 0.5) await this.rivets(device, by, record, relies);
    else if (chance < 0.6) await this.undo(device, by, record, relies);
    else await this.move(device, by, record, relies);
  }

  private async capture(device: string, by: string, record: string, relies: string[]) {
    const field = this.pick(['depth', 'kind', 'number', 'independent']);
    const value = {
      depth: { value: this.pick(['1', '2.0', '2']), unit: 'in' },
      kind: this.pick(['pitting', 'crack']),
      number: this.pick(['A/0001', 'A/0002', 'odd']),
      independent: true,
    }[field];
    const seen = this.seenBy(record, [field]);
    await this.act(device, by, [{ record, kind: 'defect', set: { [field]: value }, seen, relies }]);
  }

  private async photograph(device: string, by: string, record: string, relies: string[]) {
    const one = this.pick(['p1', 'p2']);
    const set = { defect: this.pick([record, null]), role: this.pick(['wide', 'close']) };
    const seen = this.seenBy(one, ['defect', 'role']);
    await this.act(device, by, [{ record: one, kind: 'photograph', set, seen, relies }]);
  }

  private async mark(device: string, by: string, record: string, relies: string[]) {
    const one = `m-${record}`;
    const set = { photograph: this.pick(['p1', 'p2']), struck: this.pick([true, false]) };
    const seen = this.seenBy(one, ['photograph', 'struck']);
    await this.act(device, by, [{ record: one, kind: 'mark', set, seen, relies }]);
  }

  private async rivets(device: string, by: string, record: string, relies: string[]) {
    const one = this.pick(['r1', 'r2']);
    const set = { defect: this.pick([record, null]), as_found: this.pick(['LSLS', 'SLLL', '?']) };
    const seen = this.seenBy(one, ['defect', 'as_found']);
    const design = this.random() < 0.5 ? { design: DESIGN } : {};
    const draft = { record: one, kind: 'rivet_line', set: { ...set, ...design }, seen, relies };
    await this.act(device, by, [draft]);
  }

  private async stamp(device: string, by: string, record: string, relies: string[]) {
    const list = { count: 1, sha256: 'a'.repeat(64) };
    const set = {
      defect: record,
      act: 'INSPECTED',
      number: '3',
      person: by,
      date: '2025-11-03',
      list,
    };
    await this.act(device, by, [{ record: `s${this.all.length}`, kind: 'stamp', set, relies }]);
  }

  private async undo(device: string, by: string, record: string, relies: string[]) {
    const states = this.seenBy(record, ['state']).state ?? [];
    const last = this.all.find(({ entry }) => entry.id === states[0])?.entry;
    if (!last) return this.move(device, by, record, relies);
    const before = this.all.find(({ entry }) => entry.id === last.seen.state?.[0])?.entry.set.state;
    const to = (before as { to?: string } | undefined)?.to ?? null;
    const set = { state: { move: 'undo', to, undoes: last.id } };
    const draft = { record, kind: 'defect', set, seen: { state: states } };
    await this.act(last.device, last.by, [{ ...draft, relies: [this.roles[last.by] as string] }]);
  }

  private async move(device: string, by: string, record: string, relies: string[]) {
    const others = ['d1', 'd2', 'd3'].filter((one) => one !== record);
    const sets: Record<string, Record<string, unknown>> = {
      new: { number: this.pick(['A/0001', 'A/0003']) },
      raise: { place: { structure: 'Hull' }, kind: 'crack', no_photograph: 'dark' },
      assess: { disposition: 'Repair by patch', reason: 'deep' },
      start: {},
      'same as': { same_as: this.pick(others) },
      'raised in error': {},
    };
    const now = this.view(record);
    const states = Object.values(now.values).flatMap(
      ({ state }) => (state as { to?: string })?.to ?? [],
    );
    const open = MOVES.filter((row) => row.move in sets && leadsFrom(row, states));
    const legal = open.filter((row) => row.who.includes(by));
    const row = this.pick(this.random() < 0.9 && legal.length > 0 ? legal : MOVES.slice(0, 4));
    const set = { ...sets[row.move], state: { move: row.move, to: row.to } };
    const seen = seenFor(now, [...fieldsToSee(row.move), ...Object.keys(set)]);
    const two = { record: `n${this.all.length}`, kind: 'survey', set: { title: 'with it' } };
    const drafts = [
      { record, kind: 'defect', set, seen, relies, why: 'because' },
      { ...two, relies },
    ];
    await this.act(device, by, drafts.slice(0, this.pick([1, 2])));
  }
}
