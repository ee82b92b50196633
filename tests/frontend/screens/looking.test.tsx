// @vitest-environment happy-dom
// A look is stored with the method and the paint that somebody chose today, and with no other.

import { useState } from 'preact/hooks';
import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it } from 'vitest';
import type { Bay } from '../../../frontend/src/screens/airframe/bay';
import { HowLooked } from '../../../frontend/src/screens/airframe/how_looked';
import {
  howOf,
  type Looking,
  ofDay,
  useLooking,
} from '../../../frontend/src/screens/airframe/looking';
import type { MoreKeysProps } from '../../../frontend/src/screens/airframe/more_keys';
import type { Json, Shop } from '../../../frontend/src/services/shop';
import { cleared, drawn, keyOf, press } from '../furniture/dom';

afterEach(cleared);

const TODAY = '2025-11-03';
const BAY = { structure: 'Hull', hand: 'P', bay: ['F6', 'F7'], strakes: ['K', 'C'] } as Bay;

/** A shop that keeps what is remembered, and notes the looks that are written. */
function shopOf(kept: Json = null) {
  const looks: Record<string, Json>[] = [];
  const remembered = { kept };
  const shop = {
    session: { person: 'one' },
    today: () => TODAY,
    drafts: {
      read: async () => remembered.kept,
      write: async (_: unknown, __: string, value: Json) => {
        remembered.kept = value;
      },
    },
    capture: {
      lookedAt: async (_: unknown, coverage: Record<string, Json>) => void looks.push(coverage),
    },
  } as unknown as Shop;
  return { shop, looks, remembered };
}

const settled = () => act(() => new Promise((done) => setTimeout(done, 5)));

/** The pages that ask, as the keys of the airframe hold them. */
function Asking({ shop, told }: { shop: Shop; told: (looking: Looking) => void }) {
  const [looking, onLooking] = useLooking(shop);
  const [open, setOpen] = useState(true);
  told(looking);
  if (!open || !looking.is_read) return <p>closed</p>;
  const run = (work: () => Promise<void>) => void work();
  const props = { shop, looking, onLooking, run, onClose: () => setOpen(false) };
  return <HowLooked {...(props as unknown as MoreKeysProps)} bay={BAY} />;
}

async function asking(kept: Json = null) {
  const book = shopOf(kept);
  let now: Looking | undefined;
  const box = drawn(
    <Asking
      shop={book.shop}
      told={(looking) => {
        now = looking;
      }}
    />,
  );
  await settled();
  return { ...book, box, now: () => now as Looking };
}

describe('how a bay was looked at', () => {
  it('is nothing until somebody chose, whatever was remembered without a day', () => {
    // What a page of an earlier release kept: "eye, paint on", which nobody had to choose.
    const kept = { method: 'eye', paint: 'on', how_day: null } as unknown as Looking;
    expect(howOf(ofDay(kept, TODAY))).toBeNull();
    expect(howOf(ofDay({ ...kept, how_day: '2025-11-02' }, TODAY))).toBeNull();
    expect(howOf(ofDay({ ...kept, how_day: TODAY }, TODAY))).toBe('eye, paint on');
    expect(howOf({ method: 'eye', paint: null })).toBeNull();
    expect(howOf({ method: null, paint: 'off' })).toBeNull();
  });

  it('is asked in two touches, and the second stores the look', async () => {
    const { box, looks, now } = await asking({ method: 'eye', paint: 'on', survey: 'sv' });
    expect(box.textContent).toContain('F6–F7 port, K–C: how was it looked at?');
    press(box, 'mirror');
    await settled();
    expect(looks).toEqual([]);
    expect(box.textContent).toContain('by mirror: was the paint on?');
    press(box, 'paint partly off');
    await settled();
    expect(looks).toMatchObject([
      { looked_at: true, method: 'mirror', paint: 'partly off', survey: 'sv' },
    ]);
    expect(box.textContent).toBe('closed');
    expect(howOf(now())).toBe('mirror, paint partly off');
  });

  it('is remembered for the day, with the day', async () => {
    const { box, remembered } = await asking();
    press(box, 'eye');
    await settled();
    press(box, 'paint off');
    await settled();
    expect(remembered.kept).toMatchObject({ method: 'eye', paint: 'off', how_day: TODAY });
    const again = await asking(remembered.kept);
    expect(howOf(again.now())).toBe('eye, paint off');
  });

  it('asks only for what was not said yet', async () => {
    const { box, looks } = await asking({ paint: 'off', how_day: TODAY });
    press(box, 'eye');
    await settled();
    expect(looks).toMatchObject([{ method: 'eye', paint: 'off' }]);
  });

  it('stores nothing where the way back is taken', async () => {
    const { box, looks } = await asking();
    press(box, 'eye');
    await settled();
    press(box, 'BACK');
    await settled();
    expect(keyOf(box, 'mirror')).toBeTruthy();
    press(box, 'BACK');
    await settled();
    expect([box.textContent, looks]).toEqual(['closed', []]);
  });
});
