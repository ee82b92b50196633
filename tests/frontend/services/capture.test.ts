import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Session } from '../../../frontend/src/services/shop';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { fillUp } from '../storage/broken';
import { FITTER, INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

const picture = () =>
  new Uint8Array(Buffer.from(PICTURES['rotated-exif-6'], 'base64')).buffer as ArrayBuffer;

const plain = () =>
  new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer as ArrayBuffer;

/** A disk that gives the first file back with one byte changed. */
function damaging(real: typeof IDBObjectStore.prototype.get) {
  return function (this: IDBObjectStore, key: IDBValidKey | IDBKeyRange) {
    const asked = real.call(this, key);
    if (this.name !== 'files') return asked;
    asked.addEventListener('success', () => {
      const bytes = new Uint8Array((asked.result as ArrayBuffer).slice(0));
      bytes[7] = (bytes[7] ?? 0) ^ 1;
      Object.defineProperty(asked, 'result', { value: bytes.buffer });
    });
    return asked;
  };
}

let workshop: Workshop;
let shop: OpenShop;
let session: Session;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  workshop.server.isAway = true;
});
afterEach(() => workshop.close());

describe('shutter', () => {
  it('stores a draft with number and place before any photograph', async () => {
    const { record, number } = await shop.capture.shutter(session, PLACE);
    expect(number).toBe('A/0001');
    expect(await shop.book.plain(record)).toMatchObject({
      number: 'A/0001',
      place: PLACE,
      airframe: 'airframe-1',
      state: { move: 'new', to: 'Draft' },
    });
  });

  it('gives the next number whatever became of the last', async () => {
    await shop.capture.shutter(session, PLACE);
    const undone = await shop.capture.shutter(session, PLACE);
    await shop.capture.undo(session, undone.record);
    expect((await shop.capture.shutter(session, PLACE)).number).toBe('A/0003');
  });

  it('gives no number twice when keys are struck together', async () => {
    const drafts = await Promise.all([1, 2, 3].map(() => shop.capture.shutter(session, PLACE)));
    expect(drafts.map(({ number }) => number)).toEqual(['A/0001', 'A/0002', 'A/0003']);
  });

  it('goes on numbering after the app was started again', async () => {
    await shop.capture.shutter(session, PLACE);
    await shop.close();
    const again = await workshop.shop();
    const { number } = await again.capture.shutter(again.session as Session, PLACE);
    expect(number).toBe('A/0002');
  });
});

describe('addPhotograph', () => {
  it('keeps the bytes as they came and writes what they are', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const bytes = picture();
    const added = await shop.capture.addPhotograph(session, record, new Blob([bytes]), 'wide');
    expect(await shop.files.bytes(added.sha256)).toEqual(bytes);
    expect(await shop.book.related(record, 'photograph')).toEqual([
      {
        record: added.record,
        ...{ defect: record, sha256: added.sha256, size_bytes: bytes.byteLength },
        ...{ media_type: 'image/jpeg', width_px: 20, height_px: 37, role: 'wide' },
        ...{ source: 'file', mirrored: false },
        taken: { wall: '2024-05-17T14:03:22.05', offset: '+01:00' },
      },
    ]);
  });

  it('writes of a live picture when it was taken by the corrected clock, and what it repeats', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const first = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    const other = await shop.capture.shutter(session, PLACE);
    const more = { repeat_of: first.record, light: 'aft' };
    const again = await shop.capture.addPhotograph(
      ...([session, other.record, plain(), 'wide', 'live', true, more] as const),
    );
    const fit = {
      ...{ turn_deg: '1.20', scale_percent: '0.80', shift_px: ['1.0', '-2.0'], residual_px: '0.3' },
      ...{ by: 'three rivets', points: { here: [[1, 2]], earlier: [[3, 4]] } },
    };
    await shop.capture.setFields(session, again.record, { fit });
    const [found] = await shop.book.related(first.record, 'photograph');
    expect(found).toMatchObject({ record: again.record, source: 'live', mirrored: true, fit });
    expect(found).toMatchObject(more);
    expect(found).toMatchObject({ taken: { wall: expect.stringContaining(shop.today()) } });
    // The picture it repeats is another record's, whose history it is no part of.
    const lines = await shop.book.history(record);
    expect(lines.filter(({ sentence }) => sentence.includes('hotograph'))).toHaveLength(1);
  });

  it('says that the tablet is full, and the draft keeps its number', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const stop = fillUp('files');
    const work = shop.capture.addPhotograph(session, record, picture(), 'wide');
    await expect(work).rejects.toMatchObject({ code: 'full' });
    stop();
    expect(await shop.book.related(record, 'photograph')).toEqual([]);
    expect((await shop.book.plain(record)).number).toBe('A/0001');
    await shop.capture.addPhotograph(session, record, picture(), 'wide');
    expect(await shop.book.related(record, 'photograph')).toHaveLength(1);
  });

  it('says that a photograph is kept once it was read back, and shows what was read', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const added = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    const real = IDBObjectStore.prototype.get;
    let reads = 0;
    IDBObjectStore.prototype.get = function (key) {
      if (this.name === 'files') reads += 1;
      return real.call(this, key);
    };
    await shop.capture.checked(added.record);
    shop.files.release(await shop.files.photographUrl(added.sha256));
    IDBObjectStore.prototype.get = real;
    expect(reads).toBeLessThanOrEqual(1);
    expect(await shop.files.bytes(added.sha256)).toEqual(picture());
  });

  it('keeps neither bytes nor photograph when they do not read back as written', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const real = IDBObjectStore.prototype.get;
    IDBObjectStore.prototype.get = damaging(real);
    const added = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    const check = shop.capture.checked(added.record);
    await expect(check).rejects.toThrow('does not read back as it was written');
    IDBObjectStore.prototype.get = real;
    expect(await shop.book.related(record, 'photograph')).toEqual([]);
    expect((await shop.status.waiting()).files).toBe(0);
    const { sha256 } = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    expect(await shop.files.bytes(sha256)).toEqual(picture());
  });

  it('refuses bytes that are no picture with a sentence', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const work = shop.capture.addPhotograph(session, record, new Blob(['text']), 'wide');
    await expect(work).rejects.toThrow('is no photograph this browser can read');
  });
});

describe('fields', () => {
  it('replaces a value and keeps the old one in the log', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const depth = (value: string) => ({ value, unit: 'in' });
    await shop.capture.setField(session, record, 'depth', depth('0.011'));
    const [entry] = await shop.capture.setField(session, record, 'depth', depth('0.007'));
    expect((await shop.book.values(record)).depth).toEqual([
      { value: depth('0.007'), entries: [entry?.id] },
    ]);
    expect(Object.keys(await shop.book.verdicts(record))).toHaveLength(3);
  });

  it('refuses what the role may not set and writes nothing', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const work = shop.capture.setField(session, record, 'stage', 'Stage 2');
    await expect(work).rejects.toThrow("'Stage' is not for the role inspector.");
    expect(Object.keys(await shop.book.verdicts(record))).toHaveLength(1);
  });
});

describe('undo', () => {
  it('goes back step by step, to nothing where nothing was', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.setField(session, record, 'kind', 'pitting');
    await shop.capture.setField(session, record, 'kind', 'crack');
    await shop.capture.undo(session, record);
    expect((await shop.book.plain(record)).kind).toBe('pitting');
    await shop.capture.undo(session, record);
    expect((await shop.book.plain(record)).kind).toBeUndefined();
    expect((await shop.book.plain(record)).number).toBe('A/0001');
  });

  it('takes a photograph off its defect and a mark off its photograph', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const { record: photograph } = await shop.capture.addPhotograph(
      session,
      record,
      picture(),
      'close',
    );
    const mark = await shop.capture.addMark(session, photograph, {
      kind: 'ring',
      points: [
        [31, 47.4],
        [59, 83],
      ],
    });
    await shop.capture.undo(session, record);
    expect(await shop.book.plain(mark)).toMatchObject({ struck: true });
    await shop.capture.undo(session, record);
    expect(await shop.book.related(record, 'photograph')).toEqual([]);
  });

  it('takes nothing back that another person wrote', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const other = await shop.people.unlock(FITTER, PASSCODES[FITTER] as string);
    expect(await shop.capture.undoable(other, record)).toMatchObject({ steps: 0, next: null });
    await expect(shop.capture.undo(other, record)).rejects.toThrow('nothing of yours');
  });

  it('takes a move back before the app is started again', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.setFields(session, record, { kind: 'pitting', no_photograph: 'too dark' });
    await shop.moves.raise(session, record);
    expect((await shop.book.plain(record)).state).toMatchObject({ to: 'Raised' });
    await shop.capture.undo(session, record);
    expect((await shop.book.plain(record)).state).toMatchObject({ move: 'undo', to: 'Draft' });
    expect((await shop.book.plain(record)).kind).toBe('pitting');
    await shop.moves.raise(session, record);
    expect((await shop.book.plain(record)).state).toMatchObject({ to: 'Raised' });
  });
});
