/** Recording at the airframe: number and place first, then the photograph, then field by field. */

import type { Entry } from '@sync/entry';
import { Refused } from '../domain/errors';
import { fieldOf, isCaptureField } from '../domain/fields';
import { writeNumber } from '../domain/numbers';
import { mayMove } from '../domain/permissions';
import type { Values } from '../domain/values';
import { describePicture, type Picture } from '../imaging/upright';
import type { BookStore } from '../storage/database';
import { nextSerial } from '../storage/numbers';
import { type Clock, wallText } from './clock';
import { correctedFields } from './corrections';
import { type KeptFiles, megabytes } from './files';
import type { ActDraft, Capture, Json, PhotographRole, Place, Session, Shape } from './shop';
import type { UndoLine } from './undo';
import type { ActPlan, Writer } from './writer';

/** How an act of recording is written. */
type How = { isNew?: boolean } & Partial<Pick<ActPlan, 'must_count' | 'file' | 'what'>>;

const PHOTOGRAPH_LIMIT_BYTES = 60_000_000;

export interface CaptureHost {
  store: BookStore;
  writer: Writer;
  files: KeptFiles;
  undo: UndoLine;
  clock: Clock;
  letter: string | null;
  airframe(): string | null;
  /** What pins the standard in force: {name, issue, sha256}. */
  standardPin(): Json | null;
  /** Decides whether a lead's decision may be written here and now. */
  refuseDecision(session: Session): void;
}

export class KeptCapture implements Capture {
  private numbering: Promise<unknown> = Promise.resolve();
  /** Photographs being read back, and those that did not hold. */
  private readonly checks = new Map<string, Promise<void>>();

  constructor(private readonly host: CaptureHost) {}

  shutter(session: Session, place: Place, survey?: string, found: Record<string, Json> = {}) {
    const work = this.numbering.then(() => this.newDraft(session, place, survey, found));
    this.numbering = work.catch(() => {});
    return work;
  }

  async addPhotograph(
    session: Session,
    defect: string,
    file: Blob | ArrayBuffer,
    role: PhotographRole,
    source: 'file' | 'live' | 'drawn' = 'file',
    mirrored = false,
    more: Record<string, Json> = {},
  ) {
    const bytes = file instanceof ArrayBuffer ? file : await file.arrayBuffer();
    const picture = await this.lookAt(bytes, file instanceof ArrayBuffer ? '' : file.type);
    const record = this.host.writer.newId();
    const kept = await this.host.files.fileOf(bytes, picture.media_type, record);
    const { sha256 } = kept;
    const { media_type, width_px, height_px } = picture;
    // A live picture is taken now, by the corrected clock: a tablet set wrong puts none out of order.
    const taken = picture.taken ?? (source === 'live' ? takenNow(this.host.clock) : null);
    const set: Record<string, Json> = {
      ...{ defect, sha256, size_bytes: bytes.byteLength, media_type, width_px, height_px },
      ...{ role, source, mirrored, ...more },
      ...(taken ? { taken: { ...taken } } : {}),
      ...(picture.zoom ? { zoom: picture.zoom } : {}),
    };
    const what = `The photograph (${megabytes(bytes)} MB)`;
    const draft = { record, kind: 'photograph', set };
    const { changes } = this.host.store;
    await changes.hold(this.capture(session, [draft], { isNew: true, file: kept, what }));
    const check = changes.hold(this.checkPhotograph(session, draft, sha256, what));
    this.checks.set(record, check);
    check.then(() => this.checks.delete(record)).catch(() => {});
    return { record, sha256, width_px, height_px };
  }

  checked(photograph: string): Promise<void> {
    return this.checks.get(photograph) ?? Promise.resolve();
  }

  /** Bytes and entry are stored together; where the bytes do not read back both are taken off. */
  private async checkPhotograph(session: Session, draft: ActDraft, sha256: string, what: string) {
    try {
      await this.host.files.check(sha256, what);
    } catch (error) {
      await this.host.undo.undo(session, String(draft.set.defect));
      throw error;
    }
  }

  setField(session: Session, record: string, field: string, value: Json, why?: string) {
    return this.setFields(session, record, { [field]: value }, why);
  }

  async setFields(session: Session, record: string, set: Record<string, Json>, why?: string) {
    const kind = await this.kindOf(record);
    const decides = Object.keys(set).some((field) => !isCaptureField(kind, field));
    if (decides) this.host.refuseDecision(session);
    if (!why?.trim() && kind === 'defect') await this.refuseUnsaid(record, set);
    const draft: ActDraft = { record, kind, set: withoutSpaces(set), ...(why ? { why } : {}) };
    return this.capture(session, [draft], { must_count: decides });
  }

  async addMark(session: Session, photograph: string, shape: Shape): Promise<string> {
    const record = this.host.writer.newId();
    const set = { photograph, shape: shapeValue(shape) };
    await this.capture(session, [{ record, kind: 'mark', set }], { isNew: true });
    return record;
  }

  moveMark(session: Session, mark: string, shape: Shape): Promise<Entry[]> {
    return this.setFields(session, mark, { shape: shapeValue(shape) });
  }

  strikeMark(session: Session, mark: string): Promise<Entry[]> {
    return this.setFields(session, mark, { struck: true });
  }

  async lookedAt(session: Session, coverage: Record<string, Json>): Promise<string> {
    const record = this.host.writer.newId();
    const draft = { record, kind: 'coverage', set: coverage };
    await this.capture(session, [draft], { isNew: true });
    return record;
  }

  async startSurvey(session: Session, survey: Record<string, Json>): Promise<string> {
    const record = this.host.writer.newId();
    const airframe = this.host.airframe();
    const set = { by: session.person, ...(airframe ? { airframe } : {}), ...survey };
    await this.capture(session, [{ record, kind: 'survey', set }], { isNew: true });
    return record;
  }

  async nextNumber(): Promise<string | null> {
    const { letter, store } = this.host;
    if (letter === null) return null;
    return writeNumber(letter, await store.read(['meta'], (tx) => nextSerial(tx, letter)));
  }

  movePlaces(session: Session, places: { record: string; place: Place }[], why: string) {
    const drafts = places.map(({ record, place }) => {
      return { record, kind: 'defect', set: { place: place as unknown as Json }, why };
    });
    return this.capture(session, drafts);
  }

  undo(session: Session, record?: string): Promise<Entry[]> {
    return this.host.undo.undo(session, record);
  }

  undoable(session: Session, record?: string) {
    return this.host.undo.undoable(session, record);
  }

  async chooseValue(session: Session, record: string, field: string, value: Json, why: string) {
    if (!why.trim()) {
      throw new Refused('no_reason', 'A choice between two values needs a reason.', 'Say why.');
    }
    return this.setFields(session, record, { [field]: value }, why);
  }

  private async newDraft(
    session: Session,
    place: Place,
    survey: string | undefined,
    found: Record<string, Json>,
  ) {
    const { letter, writer, store } = this.host;
    if (letter === null) throw noNumbers();
    if (!mayMove(session.role, 'new')) throw notForRole(session.role);
    const serial = await store.read(['meta'], (tx) => nextSerial(tx, letter));
    const number = writeNumber(letter, serial);
    const [airframe, standard] = [this.host.airframe(), this.host.standardPin()];
    const record = writer.newId();
    const set: Record<string, Json> = {
      ...found,
      ...{ number, place: place as unknown as Json },
      ...(airframe ? { airframe } : {}),
      ...(survey ? { survey } : {}),
      ...(standard ? { standard } : {}),
      state: { move: 'new', to: 'Draft' },
    };
    await this.capture(session, [{ record, kind: 'defect', set }], { isNew: true });
    return { record, number };
  }

  private capture(
    session: Session,
    drafts: ActDraft[],
    { isNew = false, must_count = false, ...rest }: How = {},
  ): Promise<Entry[]> {
    return this.host.writer.write(session, {
      // Nothing stands of a record that is new: there is nothing to look up.
      records: isNew ? [] : drafts.map(({ record }) => record),
      count: drafts.length,
      must_count,
      ...rest,
      build: () => drafts,
    });
  }

  private async lookAt(bytes: ArrayBuffer, type: string): Promise<Picture> {
    if (bytes.byteLength === 0 || bytes.byteLength > PHOTOGRAPH_LIMIT_BYTES) {
      const mb = (bytes.byteLength / 1e6).toFixed(1);
      throw new Refused(
        'wrong_size',
        `The photograph has ${mb} MB; more than 0 and at most 60 MB are expected.`,
        'Take it again. The draft keeps its number.',
      );
    }
    const picture = await describePicture(bytes);
    if (!picture) {
      throw new Refused(
        'no_picture',
        `The file${type ? ` (${type})` : ''} is no photograph this browser can read.`,
        'Take it again, or choose a JPEG or PNG. The draft keeps its number.',
      );
    }
    return picture.media_type === 'application/octet-stream' && type
      ? { ...picture, media_type: type }
      : picture;
  }

  /** Refuses a change of what was captured on a raised record that does not say why. */
  private async refuseUnsaid(record: string, set: Record<string, Json>): Promise<void> {
    const { standing, kept } = await this.host.store.read(['standing', 'rows'], async (tx) => ({
      standing: await tx.objectStore('standing').get(record),
      kept: await tx.objectStore('rows').get(record),
    }));
    const { state = null } = (kept?.row ?? {}) as { state?: string | null };
    const [field] = correctedFields((standing?.values ?? {}) as Values, state, withoutSpaces(set));
    if (field === undefined) return;
    const label = fieldOf('defect', field)?.label ?? field;
    throw new Refused(
      'no_reason',
      `The record is raised: a change of “${label}” needs a reason.`,
      'Say why; what stood before stays in the history.',
    );
  }

  private async kindOf(record: string): Promise<string> {
    const row = await this.host.store.read(['standing'], (tx) =>
      tx.objectStore('standing').get(record),
    );
    return row?.kind ?? 'defect';
  }
}

function takenNow(clock: Clock) {
  const ms = clock.now_ms();
  const wall = wallText(ms, -new Date(ms).getTimezoneOffset());
  return { wall: wall.slice(0, -6), offset: wall.slice(-6) };
}

function shapeValue({ kind, points, label }: Shape): Json {
  const whole = points.map(([x, y]) => [Math.round(x), Math.round(y)]);
  return { kind, points: whole, ...(label ? { label } : {}) };
}

/** Text as it will stand: no spaces round it, in NFC; an empty text is no value. */
function withoutSpaces(set: Record<string, Json>): Record<string, Json> {
  return Object.fromEntries(
    Object.entries(set).map(([field, value]) => {
      if (typeof value !== 'string') return [field, value];
      return [field, value.trim().normalize('NFC') || null];
    }),
  );
}

function notForRole(role: string): Refused {
  return new Refused(
    'role',
    `A ${role.replaceAll('_', ' ') || 'person without a role'} begins no record.`,
    'An inspector, a lead or a fitter does.',
  );
}

function noNumbers(): Refused {
  return new Refused(
    'desk',
    'A desk gives no numbers: records begin on a tablet at the airframe.',
    'Enrol this browser as a tablet, or take one from the rack.',
  );
}
