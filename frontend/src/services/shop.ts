/** What every screen is given: the book of this browser, complete without a network.

Whatever is refused throws `Refused` of domain/errors: {code, message, hint}. */

import type { Entry } from '@sync/entry';
import type { Standard } from '../domain/grading';
import type { HistoryLine } from '../domain/history';
import type { Definition, Place } from '../domain/place';
import type { DefectRow } from '../domain/projection';
import type { Exchange } from './shop_exchange';
import type { Status } from './shop_status';
import type { Stick } from './shop_stick';
import type { Take } from './shop_take';

export type Json = null | boolean | number | string | Json[] | { [name: string]: Json };
/** Every value that stands for a field of one record, with the entries that set it. */
export type Values = Record<string, FieldValue[]>;
export interface FieldValue {
  value: Json;
  entries: string[];
}
export type { Exchange, ExchangeState, RefusedEntry, Sent } from './shop_exchange';
export type { Status, StatusLine, Waiting } from './shop_status';
export type { Copies, Take, TakeNeed, TakeState, WholeNeed } from './shop_take';
export type { DefectRow, Definition, Entry, HistoryLine, Place, Standard };

/** Props of every screen. `params` comes from the address, e.g. {number: 'A0017'}. */
export interface ScreenProps {
  shop: Shop;
  params: Record<string, string>;
  /** Goes to an address; `replace` leaves no step for Back. */
  go(address: string, how?: 'replace'): void;
}

/** The only thing screens talk to. Members that need a device throw Refused without one. */
export interface Shop {
  /** null: this browser is not enrolled; show /enrol, or /set-up while the book is empty. */
  readonly device: Device | null;
  /** null: nobody is signed in; show the sign-in screen. */
  readonly session: Session | null;
  /** The airframe chosen on this browser, with its definition file; null until it is here. */
  readonly airframe: Airframe | null;
  readonly definition: Definition | null;
  /** Newest issue of the standard of acceptance that is here. */
  readonly standard: Standard | null;
  /** A sentence when the store of this browser is lost: show it full screen with a reload key. */
  readonly fault: string | null;

  readonly people: People;
  readonly enrolment: Enrolment;
  readonly book: Book;
  readonly capture: Capture;
  readonly moves: Moves;
  readonly exchange: Exchange;
  readonly files: Files;
  readonly status: Status;
  readonly take: Take;
  readonly stick: Stick;
  readonly drafts: Drafts;
  readonly places: LastPlace;
  readonly version: Version;
  /** Server routes for desk screens: set-up, enrolment codes, reports. */
  readonly api: Api;

  /** Corrected time of now, ms. */
  now(): number;
  /** The workshop's day of now, "2025-11-03". */
  today(): string;
  /** A moment as the workshop's clock shows it: "2025-11-03", "10:14". */
  moment(ms: number): [day: string, time: string];
  /** Calls on every change of the members above; returns the way to stop. */
  subscribe(listener: () => void): () => void;
  /** Runs a query now and after each change of the book; returns the way to stop. */
  live<T>(
    query: () => Promise<T>,
    tell: (value: T) => void,
    failed?: (error: unknown) => void,
  ): () => void;
}

/** What is refused, as far as a screen shows it: what failed, and what to do. */
export interface RefusalShape {
  code: string;
  message: string;
  hint: string;
}

export interface Device {
  book: string;
  /** Record id of the tablet. */
  tablet: string;
  /** null: a desk, which gives no numbers. */
  letter: string | null;
  /** What entries carry as `device`. */
  name: string;
}

export interface Session {
  person: string;
  name: string;
  role: string;
  stamp_number: string | null;
  /** Id of the entry that gave the role; "" while it is not here. */
  role_entry: string;
  /** Whether the server knows of this sign-in, so that reports can be fetched. */
  online: boolean;
  /** false: no contact for 14 days, decisions wait; capture never does. */
  may_decide: boolean;
}

export interface Airframe {
  record: string;
  type: string;
  constructor_number: string;
}

export interface PersonListed {
  person: string;
  name: string;
  role: string;
  stamp_number: string | null;
  /** Whether this browser can check the passcode with no network. */
  offline: boolean;
}

export interface People {
  /** Why the last session ended by itself; null: it did not. */
  readonly ended: RefusalShape | null;
  /** Everybody in the book, from the server when it answers, else as last known. Who has no role
  comes last and can't sign in. */
  list(): Promise<PersonListed[]>;
  /** Signs in: checked on this browser, and at the server when it is there. Throws Refused. */
  unlock(person: string, passcode: string): Promise<Session>;
  /** Checks a passcode afresh, at the moment of stamping. */
  confirm(session: Session, passcode: string): Promise<void>;
  /** Ends the session here; drafts stay with their person. */
  leave(): Promise<void>;
  /** Names by person id, for histories and rows. */
  names(): Promise<Record<string, string>>;
}

export interface Enrolment {
  /** Enrols this browser as a tablet with a code the lead was shown. */
  enrol(code: string): Promise<Device>;
  /** Enrols this browser as a desk; its person must be signed in at the server. */
  enrolDesk(): Promise<Device>;
  /** A code for one more tablet (lead). */
  code(): Promise<string>;
}

/** What a person wants written about one record; what is left out is filled in. */
export interface ActDraft {
  record: string;
  kind: string;
  set: Record<string, Json>;
  /** Left out: the values that stand when it is written, for the fields set. */
  seen?: Record<string, string[]>;
  /** Left out: the author's role entry. */
  relies?: string[];
  why?: string;
}

/** One value as it was written. */
export interface Written {
  entry: string;
  /** The workshop's day. */
  date: string;
  value: Json;
  by: string;
  why: string | null;
}

export interface Book {
  /** Stores one act durably and applies it; resolves when both are on the disk. */
  writeAct(session: Session, drafts: ActDraft[]): Promise<Entry[]>;
  /** An id for a record to be written. */
  newId(): string;
  defects(): Promise<DefectRow[]>;
  /** Row by record id. */
  defect(record: string): Promise<DefectRow | null>;
  /** Rows by number, "A/0017" or "A0017": two where a tablet was cloned. */
  numbered(number: string): Promise<DefectRow[]>;
  /** Every value that stands of a record; {} where nothing is known of it. */
  values(record: string): Promise<Values>;
  /** One value a field: the first of those that stand. A figure that fell with the scale, measurement
  or photograph it rests on is a withdrawn one. */
  plain(record: string): Promise<Record<string, Json>>;
  /** Records of a kind, each with one value a field and its own `record`. */
  records(kind: string): Promise<({ record: string } & Record<string, Json>)[]>;
  /** Records of a kind that name this record: photographs of a defect, marks, stamps. */
  related(record: string, kind: string): Promise<({ record: string } & Record<string, Json>)[]>;
  history(record: string): Promise<HistoryLine[]>;
  /** Who began each of these records. */
  begunBy(records: readonly string[]): Promise<Record<string, string>>;
  /** Day and time of the first entry of each of these records, by the workshop's clock. */
  begunAt(records: readonly string[]): Promise<Record<string, [day: string, time: string]>>;
  /** Every value that was written into a field and counts, oldest first; what was undone is left out. */
  written(record: string, field: string): Promise<Written[]>;
  /** Verdicts by entry id of one record. */
  verdicts(record: string): Promise<Record<string, { result: string; reason: string }>>;
  /** Records that exist only on this tablet: "1 copy, this tablet". */
  unsent(): Promise<Set<string>>;
  /** Records by kind of which a device wrote something on a day that the server has whole. */
  sentOn(day: string, device: string): Promise<Record<string, string[]>>;
}

export type PhotographRole =
  | 'wide'
  | 'close'
  | 'scale'
  | 'after cleaning'
  | 'before closing'
  | 'closing'
  | 'after work';

export interface Shape {
  kind: 'ring' | 'arrow' | 'line' | 'dot' | 'number' | 'outline';
  /** Whole tenths of an upright pixel. */
  points: [number, number][];
  label?: string;
}

/** What a person can take back on this browser, a restart or not. */
export interface Undoable {
  steps: number;
  next: {
    /** Defects, or what else it is about. */
    records: string[];
    kind: string;
    fields: string[];
    move: string | null;
    /** When it was written, ms of the corrected clock. */
    at_ms: number;
  } | null;
  /** What stands in the way of a further step: a move from before the restart, or what another did. */
  stopped: 'restart' | 'another' | null;
}

export interface Capture {
  /** Stores a draft with its number, its place and what is known of it, before the camera opens. */
  shutter(
    session: Session,
    place: Place,
    survey?: string,
    found?: Record<string, Json>,
  ): Promise<{ record: string; number: string }>;
  /** Stores bytes and photograph in one; resolves when both are on the disk, not yet read back. */
  addPhotograph(
    session: Session,
    defect: string,
    file: Blob | ArrayBuffer,
    role: PhotographRole,
    source?: 'file' | 'live' | 'drawn',
    mirrored?: boolean,
    /** What else is known of it: the view it repeats, where the lamp stood. */
    more?: Record<string, Json>,
  ): Promise<{ record: string; sha256: string; width_px: number; height_px: number }>;
  /** Resolves when a photograph read back as it was written; rejects where it did not and is off. */
  checked(photograph: string): Promise<void>;
  /** Writes one field; null takes the value away. */
  setField(
    session: Session,
    record: string,
    field: string,
    value: Json,
    why?: string,
  ): Promise<Entry[]>;
  /** Writes several fields of one record as one entry. */
  setFields(
    session: Session,
    record: string,
    set: Record<string, Json>,
    why?: string,
  ): Promise<Entry[]>;
  addMark(session: Session, photograph: string, shape: Shape): Promise<string>;
  moveMark(session: Session, mark: string, shape: Shape): Promise<Entry[]>;
  strikeMark(session: Session, mark: string): Promise<Entry[]>;
  /** Says of a cell that it was looked at, or why not. */
  lookedAt(session: Session, coverage: Record<string, Json>): Promise<string>;
  /** Starts a survey of the chosen airframe. */
  startSurvey(session: Session, survey: Record<string, Json>): Promise<string>;
  /** The number the shutter gives next, as things stand; null at a desk. */
  nextNumber(): Promise<string | null>;
  /** Moves records to other places in one act: entered for the wrong hand. */
  movePlaces(
    session: Session,
    places: { record: string; place: Place }[],
    why: string,
  ): Promise<Entry[]>;
  /** Takes back this person's last act here, on one record or on any; again for one before. */
  undo(session: Session, record?: string): Promise<Entry[]>;
  /** How many acts `undo` would take back in turn, and what it takes back next. */
  undoable(session: Session, record?: string): Promise<Undoable>;
  /** Settles two values: the entry has seen all of them. */
  chooseValue(
    session: Session,
    record: string,
    field: string,
    value: Json,
    why: string,
  ): Promise<Entry[]>;
}

export type StampWord = 'INSPECTED' | 'INDEPENDENT' | 'DISPOSITION' | 'RE-INSPECTED';

export interface MoveDetails {
  /** Fields that go with the move: disposition, reason, deferral, evidence, kind, place… */
  set?: Record<string, Json>;
  why?: string;
  /** `choose` and `back`: the state it leads to. */
  to?: string;
  /** Ids of entries of other records that the move rests on, besides those found here. */
  relies?: string[];
  /** Moves with a stamp (clear, accept): fresh passcode of the person. */
  passcode?: string;
  /** Word on the stamp, left out: the one of the move. */
  stamp?: StampWord;
}

export interface Moves {
  /** Moves this person may make on a record now. */
  open(session: Session, record: string): Promise<string[]>;
  /** Makes a move; refuses with a sentence before anything is written. */
  makeMove(session: Session, record: string, move: string, details?: MoveDetails): Promise<Entry[]>;
  /** Draft → Raised. */
  raise(session: Session, record: string): Promise<Entry[]>;
  /** Decides fields of a record, with a reason and a stamp in one act: an overruled grade. */
  decide(
    session: Session,
    record: string,
    set: Record<string, Json>,
    details: Pick<MoveDetails, 'why' | 'passcode' | 'stamp'>,
  ): Promise<Entry[]>;
  /** Stamps a record without moving it: the first of two stamps. */
  stamp(
    session: Session,
    record: string,
    word: StampWord,
    passcode: string,
    why?: string,
  ): Promise<Entry[]>;
}

export interface Files {
  /** Address for an image; from this browser, else from the server. Give it back with `release`. */
  photographUrl(sha256: string, size?: 320 | 1000 | 1600): Promise<string>;
  release(url: string): void;
  bytes(sha256: string): Promise<ArrayBuffer | null>;
  /** JSON file by hash: definitions, standards, stamp lists. */
  json(sha256: string): Promise<Json | null>;
  /** Keeps a file of this browser for sending; returns its hash. */
  keep(bytes: ArrayBuffer, media_type: string): Promise<string>;
}

/** Unfinished keystrokes, by person and screen. */
export interface Drafts {
  read<T extends Json>(session: Session, screen: string): Promise<T | null>;
  write(session: Session, screen: string, value: Json): Promise<void>;
  clear(session: Session, screen: string): Promise<void>;
}

/** Where each person was: address and place, offered again after a restart. */
export interface LastPlace {
  /** Address asked for before sign-in, else where the person was last. */
  address(session: Session): Promise<string | null>;
  /** Last place of this person, else of this tablet. */
  place(session: Session): Promise<Place | null>;
  /** Last place of this tablet in one structure. */
  placeIn(structure: string): Promise<Place | null>;
  keepPlace(session: Session, place: Place): Promise<void>;
  chooseAirframe(record: string): Promise<void>;
  airframes(): Promise<Airframe[]>;
}

export interface Version {
  /** true: a new version is ready; it never reloads by itself. */
  readonly newVersion: boolean;
  takeNewVersion(): Promise<void>;
}

export interface Api {
  /** Fetches JSON; throws Refused with the server's {code, message, hint}. */
  get<T = Json>(path: string): Promise<T>;
  post<T = Json>(path: string, body?: Json): Promise<T>;
  put<T = Json>(path: string, body: Json): Promise<T>;
  /** Sends bytes as they are. */
  putBytes<T = Json>(path: string, body: Blob): Promise<T>;
  postBytes<T = Json>(path: string, body: Blob): Promise<T>;
  /** Fetches a document (PDF, CSV). */
  document(path: string): Promise<Blob>;
}
