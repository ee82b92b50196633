// @vitest-environment happy-dom
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it } from 'vitest';
import { Refused } from '../../../frontend/src/domain/errors.ts';
import { NotHere, usePicture } from '../../../frontend/src/screens/frame/picture_here.tsx';
import type { Shop } from '../../../frontend/src/services/shop.ts';
import { cleared, drawn, keyOf } from '../furniture/dom.ts';

afterEach(cleared);

const AWAY = new Refused('away', 'The server cannot be reached.', 'It waits.');
const LACKING = new Refused('no_such_photograph', 'The server has no such photograph.', '');

/** A shop whose photographs are where a test puts them; it counts what is asked and given back. */
class Surroundings {
  here: Record<string, string | Refused> = {};
  readonly asked: string[] = [];
  readonly released: string[] = [];
  /** Rounds with the server that were begun at once. */
  readonly rounds: string[] = [];
  private readonly listeners = new Set<() => void>();
  readonly state = { last_contact_ms: 1000, running: false };
  readonly shop: Shop;

  constructor(letter: string | null = 'A') {
    this.shop = {
      device: { letter },
      exchange: { state: this.state, sendNow: async () => this.rounds.push('now') },
      subscribe: (listener: () => void) => {
        this.listeners.add(listener);
        return () => this.listeners.delete(listener);
      },
      files: {
        photographUrl: async (sha256: string, size?: number) => {
          this.asked.push(size ? `${sha256} ${size}` : sha256);
          const found = this.here[sha256] ?? LACKING;
          if (found instanceof Refused) throw found;
          return found;
        },
        release: (url: string) => void this.released.push(url),
      },
    } as unknown as Shop;
  }

  get listening(): number {
    return this.listeners.size;
  }

  /** The server answers, or a round with it begins. */
  async contact(change: Partial<Surroundings['state']>): Promise<void> {
    Object.assign(this.state, change);
    await settled(() => {
      for (const listener of [...this.listeners]) listener();
    });
  }
}

/** Does something, lets all that it began come to its end, and the sheet be drawn. */
async function settled(work: () => void = () => {}): Promise<void> {
  // What is drawn at the end of a step may ask for more.
  await act(work);
  for (const _step of [1, 2]) await act(() => new Promise((done) => setTimeout(done, 0)));
}

function Photograph({ shop, sha256 }: { shop: Shop; sha256: string | undefined }) {
  const picture = usePicture(shop, sha256, 1000);
  if (picture.url) return <img src={picture.url} alt="close" />;
  if (picture.lack) return <NotHere shop={shop} picture={picture} what="Photograph 2" />;
  return <p>coming</p>;
}

async function shown(around: Surroundings, sha256: string | null = 'one') {
  const box = drawn(<Photograph shop={around.shop} sha256={sha256 ?? undefined} />);
  await settled();
  return box;
}

const source = (box: Element) => box.querySelector('img')?.getAttribute('src');

describe('a photograph on the tablet', () => {
  it('is shown, in the size asked for, and given back when the sheet is left', async () => {
    const around = new Surroundings();
    around.here = { one: 'blob:one' };
    const box = await shown(around);
    expect(source(box)).toBe('blob:one');
    expect(around.asked).toEqual(['one 1000']);
    expect(around.released).toEqual([]);
    cleared();
    expect(around.released).toEqual(['blob:one']);
  });

  it('is given back when it comes after the sheet was left', async () => {
    const around = new Surroundings();
    around.here = { one: 'blob:one' };
    drawn(<Photograph shop={around.shop} sha256="one" />);
    cleared();
    await settled();
    expect(around.released).toEqual(['blob:one']);
  });

  it('makes place for the next one', async () => {
    const around = new Surroundings();
    around.here = { one: 'blob:one', two: 'blob:two' };
    const box = await shown(around);
    await settled(() => render(<Photograph shop={around.shop} sha256="two" />, box));
    expect(source(box)).toBe('blob:two');
    expect(around.released).toEqual(['blob:one']);
  });

  it('is not asked for while no photograph is named', async () => {
    const around = new Surroundings();
    expect((await shown(around, null)).textContent).toBe('coming');
    expect(around.asked).toEqual([]);
  });
});

describe('a photograph that is neither on the tablet nor within reach', () => {
  it.each([
    ['the server is away', AWAY, 'It comes with the next exchange'],
    ['the server lacks it', LACKING, 'once the tablet that took it has sent it'],
    ['the browser fails', new Error('no room'), 'once the tablet that took it has sent it'],
  ])('says so where %s', async (_, reason, words) => {
    const around = new Surroundings();
    around.here = { one: reason as Refused };
    if (!(reason instanceof Refused))
      around.shop.files.photographUrl = async () => {
        throw reason;
      };
    const box = await shown(around);
    const note = box.querySelector('[role=status]');
    expect(note?.querySelector('.not-here-title')?.textContent).toBe(
      'Photograph 2: not on this tablet',
    );
    expect(note?.textContent).toContain(words);
    expect(box.querySelector('img')).toBeNull();
  });

  it('is called missing of the browser at a desk', async () => {
    const box = await shown(new Surroundings(null));
    expect(box.textContent).toContain('not in this browser');
  });

  it('is asked for anew by TRY AGAIN, and shown when it is there', async () => {
    const around = new Surroundings();
    around.here = { one: AWAY };
    const box = await shown(around);
    await settled(() => keyOf(box, 'TRY AGAIN').click());
    expect(around.asked).toHaveLength(2);
    expect(source(box)).toBeUndefined();
    around.here = { one: 'blob:one' };
    await settled(() => keyOf(box, 'TRY AGAIN').click());
    expect(source(box)).toBe('blob:one');
    expect(box.textContent).not.toContain('TRY AGAIN');
    expect(around.asked).toHaveLength(3);
  });

  it('is not waited for until the next round: TRY AGAIN meets the server at once', async () => {
    const around = new Surroundings();
    const box = await shown(around);
    expect(around.rounds).toEqual([]);
    await settled(() => keyOf(box, 'TRY AGAIN').click());
    expect(around.rounds).toEqual(['now']);
    await around.contact({ last_contact_ms: 2000 });
    expect(around.rounds).toEqual(['now']);
  });

  it('leaves the next one to be waited for, not called missing', async () => {
    const around = new Surroundings();
    const box = await shown(around);
    around.shop.files.photographUrl = () => new Promise(() => {});
    await settled(() => render(<Photograph shop={around.shop} sha256="two" />, box));
    expect(box.textContent).toBe('coming');
  });

  it('says what is so by the last try', async () => {
    const around = new Surroundings();
    around.here = { one: AWAY };
    const box = await shown(around);
    around.here = { one: LACKING };
    await settled(() => keyOf(box, 'TRY AGAIN').click());
    expect(box.textContent).toContain('The server does not have it yet');
  });

  it('comes by itself once the server has answered, not while the round still runs', async () => {
    const around = new Surroundings();
    around.here = { one: AWAY };
    const box = await shown(around);
    around.here = { one: 'blob:one' };
    await around.contact({ running: true });
    await around.contact({ last_contact_ms: 2000 });
    expect(around.asked).toHaveLength(1);
    await around.contact({ running: false });
    expect(source(box)).toBe('blob:one');
    await around.contact({ last_contact_ms: 3000 });
    expect(around.asked).toHaveLength(2);
  });

  it('is asked for after each answer of the server until it comes', async () => {
    const around = new Surroundings();
    const box = await shown(around);
    for (const last_contact_ms of [2000, 3000]) await around.contact({ last_contact_ms });
    expect(around.asked).toHaveLength(3);
    expect(box.textContent).toContain('TRY AGAIN');
  });

  it('is waited for no more when the sheet is left', async () => {
    const around = new Surroundings();
    await shown(around);
    expect(around.listening).toBe(1);
    cleared();
    expect(around.listening).toBe(0);
    await around.contact({ last_contact_ms: 2000 });
    expect(around.asked).toHaveLength(1);
  });
});
