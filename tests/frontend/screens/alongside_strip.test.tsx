// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it } from 'vitest';
import { useAlongside } from '../../../frontend/src/screens/same_view/alongside.ts';
import { AlongsideStrip } from '../../../frontend/src/screens/same_view/alongside_strip.tsx';
import type { Json, Session, Shop } from '../../../frontend/src/services/shop.ts';
import { cleared, drawn, nameOf, press } from '../furniture/dom.ts';

afterEach(cleared);

/** A shop that keeps drafts by person, and knows one photograph of A/0009 a name. */
function shopOf(person: string, kept: Map<string, Json>): Shop {
  const photographs = ['p1', 'p2', 'p3', 'p4', 'p5'].map((record, at) => ({
    ...{ record, defect: 'd', sha256: record, role: 'close', width_px: 4, height_px: 3 },
    taken: { wall: `2025-03-0${at + 1}T10:00:00`, offset: 'unknown' },
  }));
  return {
    session: { person } as Session,
    drafts: {
      read: async (session: Session, screen: string) =>
        kept.get(`${session.person}/${screen}`) ?? null,
      write: async (session: Session, screen: string, value: Json) =>
        void kept.set(`${session.person}/${screen}`, value),
    },
    live: (query: () => Promise<unknown>, tell: (value: unknown) => void) => {
      void query().then(tell);
      return () => {};
    },
    book: {
      plain: async (record: string) => photographs.find((one) => one.record === record) ?? {},
      defect: async () => ({ number: 'A/0009' }),
      related: async () => photographs,
      begunAt: async () => ({}),
    },
    files: { photographUrl: async (sha256: string) => `blob:${sha256}`, release: () => {} },
  } as unknown as Shop;
}

function Held({ shop, shown }: { shop: Shop; shown: string[] }) {
  const alongside = useAlongside(shop);
  return (
    <>
      {['p1', 'p2', 'p3', 'p4', 'p5'].map((one) => (
        <button key={one} type="button" onClick={() => alongside.hold(one)}>
          {`HOLD ${one}`}
        </button>
      ))}
      <AlongsideStrip
        shop={shop}
        alongside={alongside}
        actions={[{ label: 'SHOW BESIDE', act: (one) => shown.push(one) }]}
      />
    </>
  );
}

/** Lets all that was begun come to its end. */
async function settled(): Promise<void> {
  for (const _step of [1, 2, 3]) await act(() => new Promise((done) => setTimeout(done, 0)));
}

async function holding(count: number, person = 'one', kept = new Map<string, Json>()) {
  const shown: string[] = [];
  const box = drawn(<Held shop={shopOf(person, kept)} shown={shown} />);
  await settled();
  for (let at = 1; at <= count; at += 1) {
    press(box, `HOLD p${at}`);
    await settled();
  }
  const held = () =>
    [...box.querySelectorAll('.held')].map((key) => nameOf(key).replace(/.*2025-03-0(\d).*/, '$1'));
  return { box, shown, held, kept };
}

describe('pictures alongside', () => {
  it('are kept by person on this tablet', async () => {
    const { held, kept } = await holding(2);
    expect(held()).toEqual(['1', '2']);
    expect((await holding(0, 'one', kept)).held()).toEqual(['1', '2']);
    expect((await holding(0, 'two', kept)).held()).toEqual([]);
  });

  it('ask which goes when a fifth is to be held', async () => {
    const { box, held } = await holding(5);
    expect(box.textContent).toContain('Four pictures are held. Touch the one that goes.');
    expect(held()).toEqual(['1', '2', '3', '4']);
    press(box, 'Let go A/0009 2025-03-02');
    await settled();
    expect(held()).toEqual(['1', '5', '3', '4']);
    expect(box.textContent).not.toContain('Touch the one that goes');
  });

  it('stay as they are when the fifth is left', async () => {
    const { box, held } = await holding(5);
    press(box, 'LEAVE IT');
    await settled();
    expect(held()).toEqual(['1', '2', '3', '4']);
  });

  it('are shown or let go one by one', async () => {
    const { box, held, shown } = await holding(2);
    press(box, 'Held alongside: A/0009 2025-03-01');
    press(box, 'SHOW BESIDE');
    expect(shown).toEqual(['p1']);
    press(box, 'Held alongside: A/0009 2025-03-01');
    press(box, 'LET GO');
    await settled();
    expect(held()).toEqual(['2']);
  });
});
