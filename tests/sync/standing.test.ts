import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry, Fields, Seen } from '../../sync/typescript/entry.ts';
import {
  add,
  type Counted,
  type Counts,
  countsFor,
  type Fault,
  fieldValues,
  loops,
  type Standing,
  seenFor,
  standing,
} from '../../sync/typescript/standing.ts';
import vectors from '../../sync/vectors/standing.json';

const RUNS = { numRuns: 300 };
const IDS = [...'abcdefgh'];
const FIELDS = ['f', 'g'];
const always: Counts = () => true;

const entryOf = (id: string, set: Fields, seen: Seen = {}, record = 'r1'): Entry => ({
  ...{ id, n: 1, prev: null, act: { id, of: 1 }, record, kind: 'thing', set, seen, relies: [] },
  ...{ by: 'p1', device: 'A', wall: '', why: null, schema: 1, sig: null, more: {} },
});

describe('standing', () => {
  it.each(vectors)('$what', (one) => {
    const entries = one.entries.map(({ id, set, seen }) => entryOf(id, set, seen as Seen));
    const table = ('counts' in one ? one.counts : {}) as Record<string, boolean | string[]>;
    const counts: Counts = ({ id }) => {
      const counted = table[id] ?? true;
      return typeof counted === 'boolean' ? counted : new Set(counted);
    };
    const elsewhere = new Set('elsewhere' in one ? one.elsewhere : []);
    const expected = { values: one.values, awaited: one.awaited, faults: one.faults };
    expect(standing(entries, counts, elsewhere)).toEqual(expected);
    expect(standing([...entries].reverse(), counts, elsewhere)).toEqual(expected);
    for (const order of [
      entries,
      [...entries].reverse(),
      ...entries.map((one) => without(entries, one)),
    ])
      order.reduce<Standing | null>((now, one, at) => {
        const quick = add(now, [one], counts);
        const whole = standing(order.slice(0, at + 1), counts, elsewhere);
        if (quick) expect(quick).toEqual(whole);
        return whole;
      }, null);
  });
});

const without = (entries: Entry[], last: Entry): Entry[] => [
  ...entries.filter((one) => one !== last),
  last,
];

type Pairs = Set<string>;
const closed = (pairs: Pairs, through: (id: string) => boolean): Pairs => {
  const all = new Set(pairs);
  for (let size = -1; size !== all.size; ) {
    size = all.size;
    for (const one of [...all])
      for (const other of [...all])
        if (one[1] === other[0] && through(other[0] as string)) all.add(`${one[0]}${other[1]}`);
  }
  return all;
};

// The book's rule written down a second time, slowly, as sets of pairs of one-letter ids.
function byTheRule(entries: Entry[], counts: Counts, elsewhere: Set<string>): Standing {
  const here = new Map(entries.map((one) => [one.id, one]));
  const values: Record<string, Record<string, unknown>> = {};
  const faults = new Set<string>();
  const awaited = new Set<string>();
  for (const field of FIELDS) {
    const seen = (one: Entry) => one.seen[field] ?? [];
    const named = entries.flatMap((one) => seen(one).map((id) => `${one.id}${id}`));
    for (const pair of named)
      if (elsewhere.has(pair[1] as string))
        faults.add(['elsewhere', pair[0], field, pair[1]].join());
      else if (!here.has(pair[1] as string)) awaited.add(pair[1] as string);
    const speaks = (id: string) => countsFor(counts(here.get(id) as Entry), field);
    const sets = (id: string) => speaks(id) && Object.hasOwn(here.get(id)?.set ?? {}, field);
    const known = new Set(named.filter((pair) => here.has(pair[1] as string)));
    const sees = closed(known, (id) => !speaks(id));
    const edges = [...sees].filter(([a, b]) => sets(a as string) && sets(b as string));
    const reach = closed(new Set(edges), () => true);
    const isLoop = ([a, b]: string) => reach.has(`${b}${a}`);
    const isPart = (id: string) => here.has(id) && (!speaks(id) || sets(id));
    const direct = new Set(named.filter(([a, b]) => isPart(a as string) && isPart(b as string)));
    const back = closed(direct, () => true);
    for (const [a, b] of [...direct].filter(([a]) => sets(a as string)))
      if (back.has(`${b}${a}`)) faults.add([a === b ? 'itself' : 'cycle', a, field, b].join());
    const retired = new Set(edges.filter((edge) => !isLoop(edge)).map((edge) => edge[1]));
    for (const one of entries)
      if (sets(one.id) && !retired.has(one.id))
        values[one.id] = { ...values[one.id], [field]: one.set[field] };
  }
  const sorted = [...faults].sort().map((fault) => fault.split(',') as unknown as Fault);
  return { values, awaited: [...awaited].sort(), faults: sorted };
}

const id = fc.constantFrom(...IDS);
const field = fc.constantFrom(...FIELDS);
const counted = fc.constantFrom<Counted>(true, true, false, new Set('f'), new Set('g'));
type Rule = readonly [before: Counted, trigger: string | null, after: Counted];
const some = { maxKeys: 2, noNullPrototype: true };
const seen = fc.dictionary(field, fc.array(id, { minLength: 1, maxLength: 3 }), some);
const entry = fc
  .tuple(id, fc.dictionary(field, fc.nat(2), some), seen, fc.constantFrom('r1', 'r2'))
  .map((parts) => entryOf(...parts));
const rule = fc.tuple(counted, fc.option(id), counted);
const books = fc
  .uniqueArray(fc.tuple(entry, rule), { maxLength: 8, selector: ([one]) => one.id })
  .map((pairs) => ({
    entries: pairs.map(([one]) => one),
    rules: new Map(pairs.map(([one, its]) => [one.id, its] as const)),
  }));

/** A counts function whose answer changes when the id a rule names has arrived. */
const countsAfter =
  (rules: ReadonlyMap<string, Rule>, arrived: ReadonlySet<string>): Counts =>
  (one) => {
    const [before, trigger, after] = rules.get(one.id) as Rule;
    return trigger !== null && arrived.has(trigger) ? after : before;
  };

class Shelf {
  readonly log = new Map<string, Entry>();
  readonly kept = new Map<string, Standing>();
  fast = 0;

  constructor(readonly rules: ReadonlyMap<string, Rule>) {}

  of = (record: string) => [...this.log.values()].filter((one) => one.record === record);
  elsewhere = (record: string) =>
    new Set([...this.log.values()].filter((one) => one.record !== record).map((one) => one.id));
  counts = () => countsAfter(this.rules, new Set(this.log.keys()));

  /** Take a batch as a device does: the fast way where it is sure, else from the log. */
  deliver(batch: readonly Entry[]): void {
    const fresh = [...new Map(batch.map((one) => [one.id, one])).values()];
    const arriving = fresh.filter((one) => !this.log.has(one.id));
    const before = this.counts();
    const old = [...this.log.values()];
    for (const one of arriving) this.log.set(one.id, one);
    const counts = this.counts();
    const unsure = new Set(old.filter((one) => before(one) !== counts(one)).map((o) => o.record));
    for (const [record, { awaited }] of this.kept)
      if (arriving.some((one) => awaited.includes(one.id))) unsure.add(record);
    for (const record of new Set([...unsure, ...arriving.map((one) => one.record)])) {
      const mine = arriving.filter((one) => one.record === record);
      const now = unsure.has(record) ? null : add(this.kept.get(record) ?? null, mine, counts);
      if (now) this.fast += 1;
      this.kept.set(record, now ?? standing(this.of(record), counts, this.elsewhere(record)));
    }
  }
}

it('gives what the set gives in any order, repetition and batching', { timeout: 60_000 }, () => {
  let fast = 0;
  const cuts = fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 20, maxLength: 20 });
  fc.assert(
    fc.property(books, fc.infiniteStream(fc.nat()), cuts, ({ entries, rules }, order, sizes) => {
      const shelf = new Shelf(rules);
      const all = [...entries, ...entries.slice(0, entries.length / 2)]
        .map((one) => [order.next().value as number, one] as const)
        .sort(([a], [b]) => a - b)
        .map(([, one]) => one);
      for (const size of sizes) {
        shelf.deliver(all.splice(0, size));
        for (const [record, now] of shelf.kept)
          expect(now).toEqual(byTheRule(shelf.of(record), shelf.counts(), shelf.elsewhere(record)));
      }
      fast += shelf.fast;
    }),
    RUNS,
  );
  expect(fast).toBeGreaterThan(100);
});

it('always has a value for a field that a counting entry set', () => {
  fc.assert(
    fc.property(books, ({ entries, rules }) => {
      const counts = countsAfter(rules, new Set(IDS));
      const now = standing(entries, counts);
      for (const one of FIELDS) {
        const setters = entries.filter(
          (e) => Object.hasOwn(e.set, one) && countsFor(counts(e), one),
        );
        expect(Object.keys(fieldValues(now, one)).length > 0).toBe(setters.length > 0);
      }
    }),
    RUNS,
  );
});

it('finds the groups that reach each other', () => {
  fc.assert(
    fc.property(fc.dictionary(id, fc.uniqueArray(id, { maxLength: 3 })), (edges) => {
      const pairs = Object.entries(edges).flatMap(([a, others]) => others.map((b) => `${a}${b}`));
      const reach = closed(new Set(pairs), () => true);
      const groups = IDS.map((a) =>
        IDS.filter((b) => reach.has(`${a}${b}`) && reach.has(`${b}${a}`)).join(''),
      );
      const expected = [...new Set(groups.filter((group) => group.length > 1))].sort();
      expect(loops(new Map(Object.entries(edges))).map((group) => group.join(''))).toEqual(
        expected,
      );
    }),
    RUNS,
  );
});

it('follows a loop of ten thousand without recursion', () => {
  const ring = Array.from(
    { length: 10_000 },
    (_, at) => [`${at}`, [`${(at + 1) % 10_000}`]] as const,
  );
  expect(loops(new Map(ring)).map((group) => group.length)).toEqual([10_000]);
});

const LARGE = 10_000;
const idOf = (at: number) => `${at}`.padStart(5, '0');
const large = (make: (at: number) => [set: Fields, seen: Seen]) =>
  Array.from({ length: LARGE }, (_, at) => entryOf(idOf(at), ...make(at)));
const half = idOf(LARGE / 2);

// Each took 3 to 10 seconds where the steps grow with the square of the entries.
it.each<[string, Entry[], Counts, number]>([
  ['a field of its own in each', large((at) => [{ [`f${at}`]: at }, {}]), always, LARGE],
  [
    'many that name a chain that does not count',
    large((at) => [{ f: at }, at ? { f: [idOf(Math.min(at, LARGE / 2) - 1)] } : {}]),
    ({ id }) => id >= half || id === idOf(0),
    LARGE / 2,
  ],
  [
    'many that name many through one that does not count',
    large((at) => [
      { f: at },
      idOf(at) === half
        ? { f: Array.from({ length: 2000 }, (_, other) => idOf(other)) }
        : { f: idOf(at) > half ? [half] : [] },
    ]),
    ({ id }) => id !== half,
    LARGE - 2001,
  ],
])('takes little time for %s', (_, entries, counts, stand) => {
  const start = process.cpuUsage();
  expect(Object.keys(standing(entries, counts).values)).toHaveLength(stand);
  // Of the processor's time: whatever else the machine does is not counted.
  expect(process.cpuUsage(start).user / 1000).toBeLessThan(1500);
});

it('lets no value go unless an author who saw it set the field again', () => {
  const step = fc.tuple(fc.nat(2), fc.nat(2), fc.boolean());
  fc.assert(
    fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
      const views = [0, 1, 2].map(() => new Map<string, Entry>());
      const everything = new Map<string, Entry>();
      steps.forEach(([author, other, speaks], at) => {
        const view = views[author] as Map<string, Entry>;
        for (const [key, one] of views[other] as Map<string, Entry>) view.set(key, one);
        if (!speaks) return;
        const named = seenFor(standing(view.values(), always), ['f']);
        const one = entryOf(`${at}`, { f: at }, named);
        view.set(one.id, one);
        everything.set(one.id, one);
      });
      const now = standing(everything.values(), always);
      const replaced = new Set([...everything.values()].flatMap((one) => one.seen.f ?? []));
      const left = [...everything.keys()].filter((key) => !replaced.has(key));
      expect(Object.keys(now.values).sort()).toEqual(left.sort());
      expect([now.awaited, now.faults]).toEqual([[], []]);
    }),
    RUNS,
  );
});

it('names what stands, and a choice settles it', () => {
  const both = standing([entryOf('a', { f: 1 }), entryOf('b', { f: 2, g: 3 })], always);
  const before = JSON.stringify(both);
  expect(seenFor(both, ['f', 'g', 'h'])).toEqual({ f: ['a', 'b'], g: ['b'] });
  expect(seenFor(null, ['f'])).toEqual({});
  const chosen = add(both, [entryOf('c', { f: 2 }, seenFor(both, ['f']))], always);
  expect(chosen).toEqual({ values: { b: { g: 3 }, c: { f: 2 } }, awaited: [], faults: [] });
  expect(JSON.stringify(both)).toBe(before);
});

it.each([
  ['it was awaited', [entryOf('b', { f: 2 }, { f: ['a'] })], entryOf('a', { f: 1 })],
  ['it is there already', [entryOf('a', { f: 1 })], entryOf('a', { f: 1 })],
  ['it names itself', [], entryOf('a', { f: 1 }, { f: ['a'] })],
  ['it names what is not here', [], entryOf('b', { f: 1 }, { f: ['a'] })],
  [
    'it names what no longer stands',
    [entryOf('a', { f: 1 }), entryOf('b', { f: 2 }, { f: ['a'] })],
    entryOf('c', { f: 3 }, { f: ['a'] }),
  ],
])('is not sure of the fast way when %s', (_, before, one) => {
  expect(add(standing(before, always), [one], always)).toBeNull();
});
