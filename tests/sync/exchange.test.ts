// Vectors and properties of the exchange; exchange_workshop.test.ts joins whole tablets.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RefusedLine, sha256Hex } from '../../sync/typescript/canonical.ts';
import {
  type Answer,
  batches,
  type Cursor,
  fromPage,
  type Head,
  headVerdict,
  type Mark,
  mergeAnswer,
  newEpoch,
  newOutbox,
  nextStep,
  type Outbox,
  readAll,
  stopReason,
  takePage,
} from '../../sync/typescript/exchange.ts';
import entryVectors from '../../sync/vectors/entry.json';
import vectors from '../../sync/vectors/exchange.json';
import { queue } from './outbox';
import { cursorVerdict, judge, pageLength, readLines, refusedLink, toPage } from './server';

const RUNS = { numRuns: 300 };
const sha256 = (text: string) => sha256Hex(text, crypto.subtle);
const cursorOf = ([epoch, seq, at]: unknown[]): Cursor => ({ epoch, seq, at }) as Cursor;

interface Step {
  do: string;
  ids: string[];
  next: [number | null, string];
  epoch?: string;
  head?: Head;
  answer?: Answer;
  cursor?: unknown[];
}

function doStep(outbox: Outbox, step: Step): Outbox {
  if (step.do === 'queue') return queue(outbox, step.ids);
  if (step.do === 'new_epoch') return newEpoch(outbox, step.epoch as string, step.ids);
  if (step.do === 'take_page') return takePage(outbox, step.head as Head, step.ids);
  return mergeAnswer(outbox, step.ids, step.answer as Answer);
}

describe('exchange', () => {
  it.each(vectors.batches)('batches: $what', (one) => {
    expect(batches(one.held, one.max_entries, one.max_bytes)).toEqual(one.batches);
  });

  it.each(vectors.rounds)('rounds: $what', ({ steps }) => {
    let outbox = newOutbox('b');
    for (const step of steps as unknown as Step[]) {
      outbox = doStep(outbox, step);
      expect(nextStep(outbox, step.next[0])).toBe(step.next[1]);
      if (step.cursor) expect(outbox.cursor).toEqual(cursorOf(step.cursor));
      for (const name of ['unsent', 'sent', 'refused', 'ask_files'] as const)
        if (name in step) expect(outbox[name]).toEqual(step[name as keyof Step]);
    }
  });

  it('answers pages, cursors and heads as in the vectors', async () => {
    for (const one of vectors.page_length) expect(pageLength(one.acts, one.limit)).toBe(one.count);
    for (const { epoch, id_at_after, query, verdict } of vectors.cursor_verdict)
      expect(cursorVerdict(epoch, id_at_after, cursorOf(query))).toBe(verdict);
    for (const { epoch, head, verdict } of vectors.head_verdict) {
      const outbox = { ...newOutbox('b'), cursor: { epoch, seq: 0, at: '' } };
      expect(headVerdict(outbox, head)).toBe(verdict);
    }
    for (const { head, lines, body } of vectors.pages) {
      expect(toPage(head, lines)).toBe(body);
      expect(fromPage(body)).toEqual([{ ...head, count: lines.length }, lines]);
    }
    for (const { line, link: expected } of vectors.refused_link) {
      const found = (await readAll([line], sha256)).map(refusedLink)[0];
      expect(found ? [found.id, found.n] : null).toEqual(expected);
    }
  });

  it('refuses a cut body, page or answer whole', async () => {
    const line = entryVectors.accepted[0]?.line as string;
    await expect(readLines(`${line}\n${line}`, sha256)).rejects.toThrow('no line end');
    const body = toPage(vectors.pages[0]?.head as Head, [line, line]);
    for (let end = 0; end < body.length; end += 1)
      expect(() => fromPage(body.slice(0, end))).toThrow(RefusedLine);
    expect(() => fromPage(`${body}half a li`)).toThrow('more or fewer');
    const answer = { ...(vectors.pages[0]?.head as Head), results: [] };
    expect(() => mergeAnswer(newOutbox('b'), ['x'], answer)).toThrow('1 lines were sent');
  });

  it('takes the good lines beside a poisoned one', async () => {
    const good = entryVectors.accepted[0]?.line as string;
    const bad = entryVectors.refused.map((one) => one.line);
    const lines = [bad[0] as string, good, ...bad, good, good.replace('red', 'blu')];
    const reads = await readLines(lines.map((line) => `${line}\n`).join(''), sha256);
    const results = judge(reads, {});
    const taken = results.filter((one) => one.result !== 'refused').map((one) => one.result);
    expect(taken).toEqual(['stored', 'duplicate']);
    const codes = results.slice(2, -2).map((one) => one.code);
    expect(codes).toEqual(entryVectors.refused.map((one) => one.code));
    expect(results.at(-1)?.code).toBe('other_bytes');
  });

  it('ends a run that gets nowhere with a sentence', () => {
    const at = (epoch: string, seq: number, unsent: number): Mark => ({
      ...{ cursor: { epoch, seq, at: '' }, unsent, sent: 0, ask_files: false },
    });
    expect(stopReason([])).toBeNull();
    expect(stopReason([at('e', 0, 3), at('e', 1, 2), at('e', 0, 3)])).toBeNull();
    expect(stopReason([at('e', 0, 3), at('e', 0, 3)])).toContain('3 entries are unsent');
    const epochs = [0, 1, 2, 3].map((n) => at(`e${n}`, 0, n));
    expect(stopReason(epochs.slice(0, 3))).toBeNull();
    expect(stopReason(epochs)).toContain('4 epochs');
  });
});

const act = fc.constantFrom('a', 'b', 'c');

it('batches everything once and splits no act', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(act, fc.nat(9)), { maxLength: 12 }), (rows) => {
      const held = rows.map(([one, size_bytes], at) => ({ id: `${at}`, act: one, size_bytes }));
      const found = batches(held, 3, 25);
      expect(found.flat().sort()).toEqual(held.map((one) => one.id).sort());
      const actsOf = (batch: string[]) => new Set(batch.map((id) => held[Number(id)]?.act));
      const count = found.reduce((sum, batch) => sum + actsOf(batch).size, 0);
      expect(count).toBe(new Set(held.map((one) => one.act)).size);
      for (const batch of found.filter((one) => actsOf(one).size > 1)) {
        expect(batch.length).toBeLessThanOrEqual(3);
        const sizes = batch.map((id) => (held[Number(id)]?.size_bytes as number) + 1);
        expect(sizes.reduce((a, b) => a + b)).toBeLessThanOrEqual(25);
      }
    }),
    RUNS,
  );
});

it('ends a page between acts and no later than it must', () => {
  fc.assert(
    fc.property(fc.array(act, { maxLength: 9 }), fc.integer({ min: 1, max: 9 }), (acts, limit) => {
      const count = pageLength(acts, limit);
      expect(count).toBeGreaterThanOrEqual(Math.min(limit, acts.length));
      if (count > 0 && count < acts.length) expect(acts[count]).not.toBe(acts[count - 1]);
      expect(new Set(acts.slice(limit - 1, count)).size).toBeLessThanOrEqual(1);
    }),
    RUNS,
  );
});
