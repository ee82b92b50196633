import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sha256Hex } from '../../sync/typescript/canonical.ts';
import {
  type Chain,
  type Link,
  link,
  reached,
  type Written,
  writeAct,
} from '../../sync/typescript/chain.ts';
import { newClock } from '../../sync/typescript/clock.ts';
import { fromLine, signedBytes, toLine } from '../../sync/typescript/entry.ts';
import vectors from '../../sync/vectors/chain.json';
import { chainFaults } from './chains';

const NOW_MS = 1_762_157_730_250;
const sha256 = (text: string) => sha256Hex(text, crypto.subtle);
const AUTHOR = { by: 'p1', device: 'A', wall: '2025-11-03T08:15:30+00:00', schema: 1, sha256 };
const START: Chain = { clock: newClock('writer01'), n: 0, prev: null };

const write = (chain: Chain, size: number, act = 'act1', now_ms = NOW_MS) => {
  const drafts = Array.from({ length: size }, (_, at) => ({
    record: `r${at}`,
    kind: 'thing',
    set: { colour: 'red' },
  }));
  return writeAct(chain, now_ms, drafts, { act, ...AUTHOR });
};
const linksOf = (written: readonly Written[]) =>
  Promise.all(written.map(async ([entry, line]) => link(entry, await sha256(line))));

describe('chain', () => {
  it.each(vectors)('finds: $what', (one) => {
    const links = one.links as Link[];
    const kept = ('kept' in one ? one.kept : {}) as Record<string, string>;
    const refused = ('refused' in one ? one.refused : []) as Link[];
    expect(chainFaults(links, refused, kept)).toEqual({ faults: one.faults, forks: one.forks });
  });

  it('writes an act as entries that follow each other', async () => {
    const [chain, written] = await write(START, 3);
    expect(written.map(([{ n, act }]) => [n, act])).toEqual(
      [1, 2, 3].map((n) => [n, { id: 'act1', of: 3 }]),
    );
    expect(written[1]?.[0].prev).toBe(await sha256(written[0]?.[1] ?? ''));
    expect([chain.n, chain.prev]).toEqual([3, await sha256(written[2]?.[1] ?? '')]);
    expect(written.map(([, line]) => fromLine(line))).toEqual(written.map(([entry]) => entry));
  });

  it('signs only the entries that ask for it', async () => {
    const sig = { key: '1762157730249-ffff-zzzzzzzz', value: 'A'.repeat(86) };
    const signed: string[] = [];
    const sign = async (text: string) => {
      signed.push(text);
      return sig;
    };
    const drafts = ['r1', 'r2'].map((record) => ({ record, kind: 'thing', set: {} }));
    const asking = drafts.map((draft, at) => ({ ...draft, signed: at === 0 }));
    const [, written] = await writeAct(START, NOW_MS, asking, { act: 'act1', ...AUTHOR, sign });
    expect(written.map(([entry]) => entry.sig)).toEqual([sig, null]);
    expect(signed).toEqual(written.slice(0, 1).map(([entry]) => signedBytes(entry)));
    expect(chainFaults(await linksOf(written)).faults).toEqual([]);
  });

  it('never writes two entries of one record in an act', async () => {
    const draft = { record: 'r1', kind: 'thing', set: {} };
    const act = writeAct(START, NOW_MS, [draft, draft], { act: 'act1', ...AUTHOR });
    await expect(act).rejects.toThrow('at most one entry a record');
  });

  it('shows a clone as a fork and a restart as neither fork nor fault', async () => {
    const [first, written] = await write(START, 2);
    for (const name of ['restart1', 'cloned01'])
      written.push(...(await write({ clock: newClock(name), n: 0, prev: first.prev }, 2, name))[1]);
    const links = await linksOf(written);
    const ids = links.map((one) => one.id);
    const { faults, forks } = chainFaults(links);
    expect([faults, forks]).toEqual([[], [[ids[2], ids[4]].sort()]]);
    expect([...reached(links, [ids[3] as string])].sort()).toEqual(ids.slice(0, 4).sort());
  });
});

it('finds every harm to a chain and nothing else', async () => {
  const harms = fc.constantFrom('none', 'lost', 'refused', 'changed', 'renumbered');
  const sizes = fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 2, maxLength: 5 });
  await fc.assert(
    fc.asyncProperty(sizes, harms, fc.nat(), async (acts, harm, spot) => {
      let chain = START;
      const written: Written[] = [];
      for (const [at, size] of acts.entries()) {
        const [after, act] = await write(chain, size, `act${at}`, NOW_MS - at);
        chain = after;
        written.push(...act);
      }
      const links = await linksOf(written);
      const kept = Object.fromEntries(links.map((one) => [one.id, one.sha256]));
      const place = spot % (links.length - 1);
      const [entry] = written[place] as Written;
      const hit = links[place] as Link;
      const changed = await sha256(toLine({ ...entry, set: { colour: 'blue' } }));
      if (harm === 'lost' || harm === 'refused') links.splice(place, 1);
      if (harm === 'changed') links[place] = { ...hit, sha256: changed };
      if (harm === 'renumbered') links[place] = { ...hit, n: hit.n + 1 };
      const refused = harm === 'refused' ? [{ ...hit, prev: null, device: null }] : [];
      const expected: Record<string, [string, number][]> = {
        lost: [['gap', hit.n + 1]],
        changed: [
          ['changed', hit.n],
          ['wrong_prev', hit.n + 1],
        ],
        renumbered: [
          ['gap', hit.n + 1],
          ['same_n', hit.n + 1],
        ],
      };
      const found = chainFaults(links.reverse(), refused, kept).faults;
      const pairs = new Set(found.map(({ what, n }) => `${what} ${n}`));
      expect(pairs).toEqual(new Set((expected[harm] ?? []).map((one) => one.join(' '))));
    }),
    { numRuns: 300 },
  );
});
