// One schedule: work on five tablets over a bad network and a server that restarts and goes back.
import { expect } from 'vitest';
import PICTURES from '../frontend/imaging/pictures.json' with { type: 'json' };
import type { Account, Bench, FirstBook } from './bench';
import { Chance } from './chance';
import { expectSame } from './same';
import { SERVER_STEPS, STEPS, type Step } from './steps';
import { Tablet, tried } from './tablet';
import { type Heard, Net } from './wire';

const TABLETS = 5;
const START_MS = 1_762_157_730_250 + 3_600_000;
const [HOUR_MS, YEAR_MS] = [3_600_000, 31_557_600_000];
const PICTURE = Buffer.from(PICTURES['plain-wide'], 'base64');
const PLACE = {
  ...{ structure: 'Hull', hand: 'P' as const, member: 'F6', strakes: ['K'], face: 'inner' },
  ...{ offset: { value: '2.0', unit: 'in' as const }, precision: 'exact' as const },
};

interface Kept {
  /** Name of a backup, or place of a copy. */
  name: string | number;
  heard: Heard;
}

export class Schedule {
  readonly played: string[] = [];
  readonly net: Net;
  private readonly chance: Chance;
  private readonly tablets: Tablet[] = [];
  private readonly backups: Kept[] = [];
  private readonly copies: Kept[] = [];
  private readonly defects: string[] = [];
  private readonly photographs: string[] = [];
  private readonly in_dock = new Set<string>();
  /** What was acknowledged and was not there. */
  private readonly lost: string[] = [];
  private server_off_ms = 0;
  private passed_ms = 0;

  constructor(
    private readonly bench: Bench,
    private readonly seed: number,
  ) {
    this.chance = new Chance(seed);
    const check = (ids: string[], files: string[]) => this.lookFor(ids, files);
    this.net = new Net(bench.address, new Chance(seed ^ 0x5bd1e995), check);
  }

  async play(steps: number): Promise<void> {
    const first = await this.bench.ask<FirstBook>('new', this.seed);
    await this.begin(first);
    for (let at = 0; at < steps; at += 1) {
      const step = this.chance.weighed(STEPS);
      const tablet = this.chance.one(this.tablets);
      this.played.push(`${tablet.name} ${step}`);
      await this.do(step, tablet);
      expect(this.lost).toEqual([]);
    }
    await this.expectHeardIsThere();
    await this.expectOneBook();
  }

  /** The true time, as far as this schedule knows one. */
  private now_ms(): number {
    this.passed_ms += 37;
    return START_MS + this.passed_ms;
  }

  private async begin(first: FirstBook): Promise<void> {
    this.net.isFaulty = false;
    for (let at = 0; at < TABLETS; at += 1) {
      const person = first.people[at % first.people.length] as string;
      const chance = new Chance(this.seed * 31 + at);
      const now_ms = () => this.now_ms();
      const name = 'ABDEF'[at] as string;
      const one = new Tablet(name, person, first, this.net, chance, now_ms);
      await one.enrol(first.codes[at] as string);
      this.tablets.push(one);
    }
    this.net.isFaulty = true;
  }

  private async do(step: Step, tablet: Tablet): Promise<void> {
    const { chance } = this;
    switch (step) {
      case 'shutter':
        return this.shutter(tablet);
      case 'photograph':
        return this.photograph(tablet, 4 + chance.below(3));
      case 'large photograph':
        return this.photograph(tablet, 1_200_000 + chance.below(1_000_000));
      case 'field':
        return this.field(tablet);
      case 'mark':
        return this.mark(tablet);
      case 'move':
        return this.move(tablet);
      case 'undo':
        await tried(tablet.at((shop, session) => shop.capture.undo(session)));
        return;
      case 'exchange':
        await tablet.at((shop) => shop.exchange.sendNow());
        return;
      case 'exchange of all':
        await Promise.all(this.tablets.map((one) => one.at((shop) => shop.exchange.sendNow())));
        return;
      case 'exchange, cut off':
        return this.cutOff(tablet);
      case 'copied back, filled again':
        return this.filledAgain();
      case 'backed up between':
        return this.backedUpBetween(tablet);
      case 'exchange, killed':
        return this.killedInExchange(tablet, 60);
      case 'large photograph, killed':
        await this.photograph(tablet, 1_200_000 + chance.below(1_000_000));
        return this.killedInExchange(tablet, 60);
      case 'late request':
        return this.net.deliverLate();
      case 'tablet clock':
        tablet.off_ms = chance.one([
          0,
          HOUR_MS,
          -HOUR_MS,
          3 * YEAR_MS,
          -55 * YEAR_MS,
          40 * YEAR_MS,
        ]);
        return;
      case 'tablet full':
        tablet.is_full = !tablet.is_full;
        return;
      case 'tablet lost':
        return this.lose(tablet);
      case 'tablet cloned':
        return this.clone(tablet);
      default:
        return this.atServer(step);
    }
  }

  // ---- what a person does

  private async shutter(tablet: Tablet): Promise<void> {
    const found = await tried(tablet.at((shop, by) => shop.capture.shutter(by, PLACE)));
    if (found) this.defects.push(found.record);
  }

  private async photograph(tablet: Tablet, own_bytes: number): Promise<void> {
    if (this.defects.length === 0) return;
    // Few different pictures: the same bytes come from several tablets.
    const own = Buffer.alloc(own_bytes, this.chance.below(4));
    const bytes = new Uint8Array(Buffer.concat([PICTURE, own])).buffer as ArrayBuffer;
    const defect = this.any(this.defects);
    const add = tablet.at((shop, by) => shop.capture.addPhotograph(by, defect, bytes, 'close'));
    const made = await tried(add);
    if (made) {
      this.photographs.push(made.record);
      await tried(tablet.at((shop) => shop.capture.checked(made.record)));
    }
  }

  private async field(tablet: Tablet): Promise<void> {
    if (this.defects.length === 0) return;
    const { chance } = this;
    const [field, value] = chance.one([
      ['note', `note ${chance.below(1000)}`],
      ['kind', chance.one(['pitting', 'crack', 'dent'])],
      ['length', { value: `${1 + chance.below(9)}.${chance.below(9)}`, unit: 'in' }],
      ['cleaned', chance.one(['yes', 'not yet'])],
      ['part', 'bottom plating'],
    ] as const);
    const record = this.any(this.defects);
    await tried(tablet.at((shop, by) => shop.capture.setField(by, record, field, value)));
  }

  /** One of the records, more often one of the first: those that everybody works at. */
  private any(records: readonly string[]): string {
    return this.chance.one(this.chance.is(0.6) ? records.slice(0, 2) : records);
  }

  private async mark(tablet: Tablet): Promise<void> {
    if (this.photographs.length === 0) return;
    const points: [number, number][] = [[this.chance.below(500), this.chance.below(500)]];
    const photograph = this.any(this.photographs);
    const shape = { kind: 'dot' as const, points };
    await tried(tablet.at((shop, by) => shop.capture.addMark(by, photograph, shape)));
  }

  private async move(tablet: Tablet): Promise<void> {
    if (this.defects.length === 0) return;
    const record = this.any(this.defects);
    const any = this.chance.next();
    await tried(
      tablet.at(async (shop, by) => {
        const open = await shop.moves.open(by, record);
        const move = open[Math.floor(any * open.length)];
        const details = { why: 'drawn', set: { disposition: 'Blend out' } };
        if (move) await shop.moves.makeMove(by, record, move, details);
      }),
    );
  }

  /** Something happens at the server in the middle of an exchange: between pages, between parts. */
  private async cutOff(tablet: Tablet): Promise<void> {
    const step = this.chance.weighed(SERVER_STEPS);
    this.played.push(`(${step})`);
    let left = this.chance.below(6);
    this.net.before(
      () => left-- <= 0,
      () => this.atServer(step),
    );
    await tablet.at((shop) => shop.exchange.sendNow());
    this.net.goOn();
  }

  /** A backup is made between the entries of a photograph and its bytes, and is put back. */
  private async backedUpBetween(tablet: Tablet): Promise<void> {
    const isCopy = this.chance.is(0.6);
    this.net.isFaulty = this.chance.is(0.3);
    await tablet.at((shop) => shop.exchange.sendNow());
    await this.photograph(tablet, 8 + this.chance.below(100));
    this.net.before(
      (method) => method === 'PUT',
      () => this.atServer(isCopy ? 'copy' : 'backup'),
    );
    await tablet.at((shop) => shop.exchange.sendNow());
    this.net.goOn();
    const [step, from]: [Step, Kept[]] = isCopy
      ? ['copy back', this.copies]
      : ['restore', this.backups];
    if (from.length > 0) await this.putBack(step, from.at(-1) as Kept);
    this.net.isFaulty = true;
  }

  /** A copy is put back, and then filled so that every cursor still finds its entry. */
  private async filledAgain(): Promise<void> {
    const [one, two, three] = this.tablets;
    if (!one || !two || !three) return;
    const meet = (tablet: Tablet) => tablet.at((shop) => shop.exchange.sendNow());
    this.net.isFaulty = false;
    for (const tablet of [one, two, three, one, two]) await meet(tablet);
    await this.atServer('copy');
    await this.shutter(one);
    await meet(one);
    await this.shutter(two);
    await meet(two);
    const again = this.net.lastBatch();
    await meet(one);
    await this.putBack('copy back', this.copies.at(-1) as Kept);
    await this.shutter(three);
    await meet(three);
    await again();
    this.net.isFaulty = true;
  }

  /** The app ends at any point: after any answer, and any number of turns of its code later. */
  private async killedInExchange(tablet: Tablet, most_turns: number): Promise<void> {
    const running = tablet.at((shop) => shop.exchange.sendNow()).catch(() => {});
    await Promise.race([running, this.net.answers(this.chance.below(8))]);
    for (let turn = this.chance.below(most_turns); turn > 0; turn -= 1) {
      await new Promise((done) => setImmediate(done));
    }
    await tablet.kill();
  }

  /** A tablet falls into the dock; what the server has acknowledged of its work must stay. */
  private async lose(tablet: Tablet): Promise<void> {
    if (this.tablets.length < 3) return;
    this.tablets.splice(this.tablets.indexOf(tablet), 1);
    this.in_dock.add(tablet.name.replace('′', ''));
    tablet.stop();
  }

  /** Whether a gap is that of a tablet in the dock: what a restore took and it alone still held is
  gone, and the check of the book must say so. */
  private isOfLost(fault: string, there: Account): boolean {
    const [, writer = ''] = /writer (\w{8}).* (?:missing|not here)/.exec(fault) ?? [];
    const [, line] = Object.entries(there.entries).find(([id]) => id.endsWith(writer)) ?? [];
    const { device } = JSON.parse(line ?? '{}') as { device?: string };
    return writer !== '' && this.in_dock.has(device ?? '');
  }

  /** A tablet's disk is copied onto another tablet, and both go on. */
  private async clone(tablet: Tablet): Promise<void> {
    if (this.tablets.length > TABLETS) return;
    this.tablets.push(await tablet.clone(new Chance(this.seed * 31 + TABLETS)));
  }

  // ---- what happens at the server

  private async atServer(step: Step): Promise<void> {
    const { bench, net, chance } = this;
    if (step === 'server clock') return this.serverClock();
    if (step === 'server restart') return net.whileDown(() => bench.ask('restart'));
    if (step === 'backup') {
      const heard = net.heard.copy();
      this.backups.push({ name: await bench.ask<string>('back_up'), heard });
    } else if (step === 'copy') {
      const heard = net.heard.copy();
      this.copies.push({ name: await bench.ask<number>('copy'), heard });
    } else {
      const from = step === 'restore' ? this.backups : this.copies;
      if (from.length > 0) await this.putBack(step, chance.one(from));
    }
  }

  /** Puts a backup or a copy back; what was acknowledged before it was made is there at once. */
  private async putBack(step: Step, { name, heard }: Kept): Promise<void> {
    await this.net.whileDown(async () => {
      await this.bench.ask(step === 'restore' ? 'restore' : 'copy_back', name);
      this.net.heard = heard.copy();
      await this.lookFor([...heard.entries], [...heard.files]);
    });
  }

  private async serverClock(): Promise<void> {
    const off_ms = this.chance.one([0, 2 * HOUR_MS, -2 * HOUR_MS, -3 * YEAR_MS, 2 * YEAR_MS]);
    await this.bench.ask('jump', off_ms - this.server_off_ms);
    this.server_off_ms = off_ms;
  }

  // ---- what must be true at the end

  /** Notes what was acknowledged and is not there at this moment. */
  private async lookFor(ids: string[], files: string[]): Promise<void> {
    this.lost.push(...(await this.bench.ask<string[]>('lacking', ids, files)));
  }

  /** What the server acknowledged is there before anybody sends anything again. */
  private async expectHeardIsThere(): Promise<void> {
    const there = await this.net.whileDown(() => this.bench.ask<Account>('account'));
    const { entries, files } = this.net.heard;
    expect([...entries].filter((id) => !(id in there.entries))).toEqual([]);
    expect([...files].filter((sha256) => !there.files.includes(sha256))).toEqual([]);
    expect(there.damaged).toEqual([]);
  }

  /** Over a sound network every tablet and the server come to one book, whole everywhere. */
  private async expectOneBook(): Promise<void> {
    this.net.isFaulty = false;
    for (const tablet of this.tablets) tablet.is_full = false;
    const before = new Map<string, string>();
    for (const tablet of this.tablets) {
      for (const [id, line] of (await tablet.held()).entries) before.set(id, line);
    }
    const pass_hour = () => {
      this.passed_ms += 2 * HOUR_MS;
      return this.bench.ask('jump', 2 * HOUR_MS);
    };
    for (const tablet of this.tablets) await tablet.sendAll(pass_hour);
    // The first may have met a server that the others had not reached yet; and once in an hour each
    // asks whether its log and its photographs are still there. What one then offers again reaches
    // those that came before it when they meet the server once more.
    await pass_hour();
    for (const tablet of [...this.tablets, ...this.tablets]) await tablet.sendAll(pass_hour);
    const there = await this.bench.ask<Account>('account');
    for (const [id, line] of before) expect({ id, line: there.entries[id] }).toEqual({ id, line });
    expect(there.damaged).toEqual([]);
    expect(there.faults.filter((one) => !this.isOfLost(one, there))).toEqual([]);
    for (const tablet of this.tablets) await expectSame(await tablet.held(), there);
  }
}
