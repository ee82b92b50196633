// What the people of a recorded session do: every kind of record and every move at least once.

import { decideTwo, pairId } from '../../frontend/src/services/pairs';
import type { Json, Session, Shape, Shop } from '../../frontend/src/services/shop';
import PICTURES from '../frontend/imaging/pictures.json' with { type: 'json' };
import { PLACE } from '../frontend/services/bench';
import type { Browser } from './recorder';

export interface At {
  browser: Browser;
  session: Session;
  passcode: string;
}

const inches = (value: string, more: object = {}) => ({ value, unit: 'in', ...more });
const DEFERRAL = { look_again_by: '2026-03-01', limit: 'no limit', authority: 'Lead' };
let pictures = 0;

/** A code-drawn picture with bytes of its own, and as many noughts after it as asked. */
export function drawn(name: keyof typeof PICTURES, more_bytes = 0): ArrayBuffer {
  pictures += 1;
  const own = Buffer.from(`picture ${pictures}`);
  const whole = Buffer.concat([
    Buffer.from(PICTURES[name], 'base64'),
    own,
    Buffer.alloc(more_bytes),
  ]);
  return new Uint8Array(whole).buffer as ArrayBuffer;
}

const act = <T>({ browser, session }: At, work: (shop: Shop, by: Session) => Promise<T>) =>
  browser.at((shop) => work(shop, session));
const move = (at: At, record: string, word: string, details: object = {}) =>
  act(at, ({ moves }, by) =>
    moves.makeMove(by, record, word, { passcode: at.passcode, ...details }),
  );
const write = (at: At, kind: string, set: Record<string, Json>, record?: string) =>
  act(at, async ({ book }, by) => {
    const id = record ?? book.newId();
    await book.writeAct(by, [{ record: id, kind, set }]);
    return id;
  });

/** A defect with its picture and its figures, raised; returns its record. */
export async function raised(at: At, depth: string, place = PLACE, more_bytes = 0) {
  const { record } = await act(at, ({ capture }, by) => capture.shutter(by, place));
  await act(at, async ({ capture, moves }, by) => {
    await capture.addPhotograph(by, record, drawn('plain-wide', more_bytes), 'close');
    await capture.setField(by, record, 'kind', 'pitting');
    await capture.setFields(by, record, { material: 'AL', part: 'bottom plating' });
    await capture.setField(by, record, 'thickness', inches('0.064', { method: 'drawing figure' }));
    const gauge = { method: 'depth gauge', instrument: 'DG-1', uncertainty: inches('0.001') };
    await capture.setField(by, record, 'depth', inches(depth, gauge));
    await capture.setField(by, record, 'cleaned', 'yes');
    await moves.raise(by, record);
  });
  return record;
}

/** The inspector’s day; returns the records that were raised. */
export async function inspect(at: At): Promise<string[]> {
  const survey = await act(at, ({ capture }, by) =>
    capture.startSurvey(by, { title: 'Bow, port', date: '2025-11-03', method: 'visual' }),
  );
  const records: string[] = [];
  for (const depth of ['0.004', '0.011', '0.024']) records.push(await raised(at, depth));
  const [first, second] = records as [string, string];
  await ringAndStrike(at, first);
  await correct(at, first, second, survey);
  await lookRound(at, survey);
  await write(at, 'rivet_line', {
    ...{ defect: second, name: 'RL-01', first_station: inches('70.5') },
    design: { diameter: '5/32', alloy: '2117', head: '470', planes: 1, pitch: inches('1.125') },
    ...{ as_found: 'SSSSLSSSSSWWC', as_now: 'SSSSLSSSSSWWD' },
    holes: { '13': { major: inches('0.176'), minor: inches('0.170') } },
  });
  return records;
}

/** A second picture with its marks: one is moved, one struck out. */
function ringAndStrike(at: At, record: string): Promise<void> {
  return act(at, async ({ capture }, by) => {
    const bytes = drawn('rotated-exif-6');
    const taken = await capture.addPhotograph(by, record, bytes, 'wide', 'live', true);
    const mark = await capture.addMark(by, taken.record, shape('ring', 90, 80, 140, 90));
    await capture.moveMark(by, mark, shape('ring', 95, 80, 145, 90));
    const struck = await capture.addMark(by, taken.record, shape('arrow', 10, 10, 60, 70));
    await capture.strikeMark(by, struck);
  });
}

function shape(kind: 'ring' | 'arrow', ...at: [number, number, number, number]): Shape {
  const [x1, y1, x2, y2] = at;
  return {
    kind,
    points: [
      [x1, y1],
      [x2, y2],
    ],
  };
}

/** Corrections with their reasons, a value taken away, an act taken back, a place moved. */
function correct(at: At, first: string, second: string, survey: string): Promise<void> {
  return act(at, async ({ capture }, by) => {
    await capture.setField(by, first, 'depth', inches('0.006'), 'read the wrong scale');
    await capture.setField(by, first, 'length', 'not measured');
    await capture.setFields(by, second, { note: 'Primer gone – “blistered”, 3 × é', survey });
    await capture.setField(by, second, 'note', null, 'wrong record');
    await capture.setField(by, second, 'perforated', true, 'light shows through');
    await capture.undo(by);
    const place = { ...PLACE, hand: 'S' as const };
    await capture.movePlaces(by, [{ record: second, place }], 'wrong hand entered');
  });
}

/** Cells looked at and not, a place with nothing to find, drafts that stay and that go. */
function lookRound(at: At, survey: string): Promise<void> {
  return act(at, async ({ capture, moves }, by) => {
    const cell = { structure: 'Hull', hand: 'P', bay: ['F5', 'F6'], strakes: ['K', 'B1'] };
    await capture.lookedAt(by, { survey, cell, looked_at: true, method: 'visual', paint: 'on' });
    await capture.lookedAt(by, { survey, cell, looked_at: false, blocked: 'floor in the way' });
    const { record: none } = await capture.shutter(by, PLACE);
    await moves.makeMove(by, none, 'nil', { set: { kind: 'nil', no_photograph: 'nothing seen' } });
    await capture.shutter(by, PLACE, survey, { kind: 'crack', no_photograph: 'no light' });
    const { record: back } = await capture.shutter(by, PLACE);
    await capture.undo(by, back);
  });
}

/** The lead’s and the fitter’s: moves to the end, decisions, stages, gauges, pairs. */
export async function decide(lead: At, fitter: At, inspector: At, records: string[]) {
  const [first, second, third] = records as [string, string, string];
  await write(lead, 'stage', { title: 'Stage 1', date: '2025-12-01', scope: 'Close the bow' });
  await write(lead, 'instrument', { name: 'DG-1', title: 'depth gauge', due: '2026-05-31' });
  const patch = { disposition: 'Repair by patch', reason: 'too deep to blend' };
  await move(lead, first, 'assess', { set: { ...patch, stage: 'Stage 1' } });
  await move(lead, third, 'defer', { set: { deferral: { ...DEFERRAL, to_stage: 'Stage 1' } } });
  await move(lead, second, 'assess', { set: { ...patch, independent: true } });
  const overrule = { overrule: { grade: 3 }, authority: 'DA/0007' };
  await act(lead, ({ moves }, by) =>
    moves.decide(by, second, overrule, {
      why: 'on a highly stressed member',
      passcode: lead.passcode,
    }),
  );
  await write(
    lead,
    'defect',
    { look_again: { tablet: 'A', ask: 'length with a steel rule' } },
    third,
  );
  const pair = {
    id: pairId('same defect', first, third),
    query: 'same defect',
    records: [first, third],
  };
  await act(lead, (shop, by) => decideTwo(shop, by, pair as never));
  await lead.browser.meet();
  await fitter.browser.meet();
  for (const record of [first, second]) {
    await move(fitter, record, 'start');
    const photograph = await act(fitter, async ({ capture }, by) =>
      capture.addPhotograph(by, record, drawn('plain-png'), 'after work'),
    );
    const evidence = { photograph: photograph.record, depth_left: inches('0.060') };
    await move(fitter, record, 'offer', { set: { evidence } });
  }
  await move(inspector, first, 'reject', { why: 'edge not faired' });
  await move(fitter, first, 'offer');
  await move(inspector, first, 'clear');
  await act(inspector, ({ moves }, by) => moves.stamp(by, second, 'INSPECTED', inspector.passcode));
  await inspector.browser.meet();
  await lead.browser.meet();
  await move(lead, second, 'clear', { stamp: 'INDEPENDENT' });
  await lead.browser.meet();
}

/** What a later app may write: a kind and fields that nobody here knows. */
export async function writeUnknown(at: At, record: string): Promise<void> {
  await write(at, 'borescope_run', { defect: record, lens: { angle: 70 }, frames: [1, 2, 3] });
  await write(at, 'defect', { humidity: inches('0.5'), glow: null }, record);
}

/** Two browsers that measure one record without each other, and the choice between them. */
export async function twoValues(one: At, other: At, lead: At, record: string): Promise<void> {
  const measured = (at: At, value: string) =>
    act(at, ({ capture }, by) => capture.setField(by, record, 'width', inches(value)));
  await measured(one, '0.5');
  await measured(other, '0.75');
  for (const { browser } of [one, other, lead]) await browser.meet();
  await act(lead, ({ capture }, by) =>
    capture.chooseValue(by, record, 'width', inches('0.75'), 'the later gauge'),
  );
  await lead.browser.meet();
}

/** The moves that are left: same as and back, in error and back, found again, accepted, re-assessed. */
export async function otherMoves(
  lead: At,
  inspector: At,
  fitter: At,
  record: string,
  cleared: string,
) {
  const again = await raised(inspector, '0.003');
  await inspector.browser.meet();
  await lead.browser.meet();
  await move(lead, again, 'same as', { set: { same_as: record } });
  await move(lead, again, 'back', { why: 'another frame after all' });
  await move(lead, again, 'raised in error', { why: 'a scratch of the paint' });
  await move(lead, again, 'back', { why: 'it was metal' });
  const accepted = { disposition: 'Accept as is', reason: 'within limits' };
  await move(lead, again, 'assess', { set: accepted });
  await lead.browser.meet();
  await fitter.browser.meet();
  await move(fitter, again, 'start');
  await fitter.browser.meet();
  await lead.browser.meet();
  await move(lead, again, 're-assess', { why: 'nothing to be done', set: accepted });
  await move(lead, again, 'accept', { set: { ...accepted, standard: await pinOf(lead) } });
  await lead.browser.meet();
  await inspector.browser.meet();
  await act(inspector, ({ capture }, by) =>
    capture.addPhotograph(by, cleared, drawn('turned-exif-8'), 'close'),
  );
  await move(inspector, cleared, 'found again', { why: 'it has come back' });
  await inspector.browser.meet();
}

function pinOf(at: At): Promise<Json> {
  return act(at, async ({ book }) => {
    const [{ name, issue, sha256 } = {} as Record<string, Json>] = await book.records('standard');
    return { name, issue, sha256 } as Json;
  });
}
