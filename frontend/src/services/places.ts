/** Where each person was: address, place and airframe, offered again after a restart. */

import type { BookStore } from '../storage/database';
import { pinnedBy } from '../storage/derive';
import { type QuickCopy, quickCopy } from '../storage/quick';
import type { Transaction } from '../storage/schema';
import { readJson } from '../storage/shelf';
import { plainOf } from './book';
import type { Airframe, Definition, Json, LastPlace, Place, Session, Standard } from './shop';

/** Places lie beside the keystrokes, under a name that no person has. */
const QUICK = 'places/';

/** The airframe chosen, its definition, and the standard in force, as far as they are here. */
export interface Frame {
  airframe: Airframe | null;
  definition: Definition | null;
  standard: Standard | null;
  /** {name, issue, sha256} of the standard. */
  standard_pin: Json | null;
}

export const NO_FRAME: Frame = {
  airframe: null,
  definition: null,
  standard: null,
  standard_pin: null,
};

export class KeptPlaces implements LastPlace {
  /** Address asked for before anybody was signed in. */
  wanted: string | null = null;
  /** A place on one airframe is none on another. */
  private shown = '';

  constructor(
    private readonly store: BookStore,
    private readonly quick: QuickCopy = quickCopy(),
  ) {}

  async address(session: Session): Promise<string | null> {
    const wanted = this.wanted;
    this.wanted = null;
    return wanted ?? ((await this.meta(`address:${session.person}`)) as string | undefined) ?? null;
  }

  async keepAddress(session: Session, address: string): Promise<void> {
    await this.put(`address:${session.person}`, address);
  }

  async place(session: Session): Promise<Place | null> {
    const own = await this.metaHere(`place:${session.person}`);
    return ((own ?? (await this.metaHere('place'))) as Place | undefined) ?? null;
  }

  async placeIn(structure: string): Promise<Place | null> {
    return ((await this.metaHere(`place in:${structure}`)) as Place | undefined) ?? null;
  }

  /** Keeps where a person is, for the person, the tablet, and the tablet in this structure; the
  last step too, where the page is put aside in the same moment. */
  async keepPlace(session: Session, place: Place): Promise<void> {
    const kinds = [`place:${session.person}`, 'place', `place in:${place.structure}`];
    const names = kinds.map((name) => name + this.shown);
    const text = JSON.stringify(place);
    for (const name of names) this.quick.write(QUICK + name, text);
    await this.store.write(['meta'], (tx) =>
      Promise.all(names.map((name) => tx.objectStore('meta').put(place, name))),
    );
    for (const name of names)
      if (this.quick.read(QUICK + name) === text) this.quick.remove(QUICK + name);
  }

  async airframes(): Promise<Airframe[]> {
    return this.store.read(['standing'], airframesIn);
  }

  async chooseAirframe(record: string): Promise<void> {
    await this.put('airframe', record);
    this.store.changes.announce(['standing']);
  }

  /** Reads the frame anew: the airframe chosen, or the only one, or the first. */
  async frame(): Promise<Frame> {
    return this.store.read(['standing', 'files', 'meta'], async (tx) => {
      const [airframes, chosen] = await Promise.all([
        airframesIn(tx),
        tx.objectStore('meta').get('airframe'),
      ]);
      const airframe = airframes.find(({ record }) => record === chosen) ?? airframes[0] ?? null;
      // Books of one airframe keep the names that they had.
      this.shown = airframe && airframes.length > 1 ? ` ${airframe.record}` : '';
      const row = airframe ? await tx.objectStore('standing').get(airframe.record) : undefined;
      const [sha256] = row ? pinnedBy([row], 'definition') : [];
      const definition = sha256 ? ((await readJson(tx, sha256)) as Definition | null) : null;
      const rows = await tx.objectStore('standing').index('kind').getAll('standard');
      for (const pin of rows.map(plainOf).sort(newestFirst)) {
        const standard = (await readJson(tx, text(pin, 'sha256'))) as Standard | null;
        const { name = null, issue = null, sha256 = null } = pin;
        if (standard)
          return { airframe, definition, standard, standard_pin: { name, issue, sha256 } };
      }
      return { ...NO_FRAME, airframe, definition };
    });
  }

  private meta(key: string): Promise<unknown> {
    return this.store.read(['meta'], (tx) => tx.objectStore('meta').get(key));
  }

  private metaHere(key: string): Promise<unknown> {
    const newest = this.quick.read(QUICK + key + this.shown);
    return newest === null ? this.meta(key + this.shown) : Promise.resolve(JSON.parse(newest));
  }

  private async put(key: string, value: unknown): Promise<void> {
    await this.store.write(['meta'], (tx) => tx.objectStore('meta').put(value, key));
  }
}

/** By constructor's number, so that every browser shows the same one until another is chosen. */
async function airframesIn(tx: Transaction): Promise<Airframe[]> {
  const rows = await tx.objectStore('standing').index('kind').getAll('airframe');
  const airframes = rows.map(plainOf).map((plain) => ({
    record: plain.record,
    type: text(plain, 'type'),
    constructor_number: text(plain, 'constructor'),
  }));
  const order = (one: Airframe, two: Airframe) =>
    one.constructor_number.localeCompare(two.constructor_number, 'en', { numeric: true });
  return airframes.sort(order);
}

type Named = { record: string } & Record<string, Json>;

function newestFirst(one: Named, two: Named): number {
  const order = text(two, 'issue').localeCompare(text(one, 'issue'), 'en', { numeric: true });
  return order || text(one, 'name').localeCompare(text(two, 'name'));
}

/** An own text of a record: `constructor` is a field here, and a member of every object. */
function text(plain: Named, field: string): string {
  const value = Object.hasOwn(plain, field) ? plain[field] : null;
  return typeof value === 'string' ? value : '';
}
