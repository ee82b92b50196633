// Which picture of a record the desk shows first.

import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { firstOf, lyingOn } from '../../../frontend/src/screens/defects/first_picture';
import { type Picture, picturesOf } from '../../../frontend/src/screens/photograph/pictures';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Session } from '../../../frontend/src/services/shop';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { INSPECTOR, PASSCODES, PLACE, Workshop } from '../services/bench';

const pictures = (...roles: string[]) =>
  roles.map((role, at) => ({ record: `p${at}`, role }) as Picture);
const NOTHING = { carries_figure: false, is_marked: false };
const MARKED = { carries_figure: false, is_marked: true };
const FIGURE = { carries_figure: true, is_marked: true };

describe('the picture of a record that is shown first', () => {
  it('is the one that a figure rests on, before a newer one with marks or without', () => {
    const three = pictures('wide', 'close', 'close');
    expect(firstOf(three, [FIGURE, MARKED, NOTHING])).toBe(0);
    expect(firstOf(three, [FIGURE, FIGURE, MARKED])).toBe(1);
  });

  it('is the newest with marks where no figure rests on one', () => {
    expect(firstOf(pictures('wide', 'wide', 'close'), [MARKED, MARKED, NOTHING])).toBe(1);
  });

  it('is the newest near one where nothing lies on any, and the newest of wide ones', () => {
    const none = [NOTHING, NOTHING];
    expect(firstOf(pictures('close', 'wide'), none)).toBe(0);
    expect(firstOf(pictures('wide', 'wide'), none)).toBe(1);
    expect(firstOf([], [])).toBe(-1);
  });
});

describe('what lies on the pictures of a record', () => {
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

  it('is read from the book: marks that stand, and the measurement of a figure', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const bytes = (name: keyof typeof PICTURES) =>
      new Uint8Array(Buffer.from(PICTURES[name], 'base64')).buffer;
    const first = await shop.capture.addPhotograph(session, record, bytes('plain-wide'), 'wide');
    const write = (name: string, kind: string, set: object) =>
      shop.book.writeAct(session, [
        { record: name, kind, set: { photograph: first.record, ...set } as never },
      ]);
    const seen = async () => lyingOn(shop, record, await picturesOf(shop, record));
    expect(await seen()).toEqual([NOTHING]);
    await write('mark', 'mark', { shape: { kind: 'dot', points: [[10, 10]] } });
    expect(await seen()).toEqual([MARKED]);
    await write('mark', 'mark', { struck: true });
    expect(await seen()).toEqual([NOTHING]);
    await write('measured', 'measurement', { shape: 'length' });
    expect(await seen()).toEqual([MARKED]);
    const length = { value: '45.5', unit: 'mm', measurement: 'measured' };
    await shop.capture.setFields(session, record, { length });
    expect(await seen()).toEqual([FIGURE]);
  });
});
