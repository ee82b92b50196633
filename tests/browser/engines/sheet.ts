// The page as a person meets it: keys, fields and cells by the words on them.
import { expect } from 'vitest';
import { demoPerson } from '../acts';
import { awaited, DriverRefused, type Engine } from './wire';

const SOON = { timeout: 20_000 };

export class Sheet {
  constructor(
    private readonly engine: Engine,
    readonly address: string,
  ) {}

  async go(path: string): Promise<void> {
    await this.engine.send('go', { url: this.address + path });
  }

  /** Reload as the page itself would: Firefox's driver goes past the service worker. */
  async reload(): Promise<void> {
    await this.run(() => {
      document.documentElement.dataset.old = 'yes';
      location.reload();
    });
    const isNew = () => document.readyState === 'complete' && !document.documentElement.dataset.old;
    await awaited('The page', () => this.run(isNew).catch(() => false));
  }

  /** Run a function in the page; it may use nothing from outside itself. */
  run<Args extends unknown[], T>(work: (...args: Args) => T, ...args: Args): Promise<T> {
    const script = `return (${work.toString()}).apply(null, arguments);`;
    return this.engine.send('run', { script, args }) as Promise<T>;
  }

  /** Return the words of the first element of a selector; none where there is no such element. */
  words(selector = 'body'): Promise<string> {
    return this.run((one) => {
      const element = document.querySelector<HTMLElement>(one);
      // What is drawn has no inner text.
      return (element?.innerText ?? element?.textContent ?? '').replace(/\s+/g, ' ');
    }, selector);
  }

  async says(words: string | RegExp, selector = 'body'): Promise<void> {
    await expect.poll(() => this.words(selector), SOON).toMatch(words);
  }

  /** Wait for an address whose path matches, and return the path. */
  async comesTo(path: RegExp): Promise<string> {
    const here = () => this.run(() => location.pathname);
    await expect.poll(here, SOON).toMatch(path);
    return here();
  }

  /** Press the first element shown whose words or spoken name match. */
  async press(name: RegExp, among = 'button'): Promise<void> {
    await this.act(name, among, 'press');
  }

  /** Touch the first element of a selector at a share of its width and height, once it lies still. */
  async touch(selector: string, across: number, down: number): Promise<void> {
    let last = '';
    const still = async () => {
      const box = await this.run(boxOf, selector);
      const is_still = box !== null && JSON.stringify(box) === last;
      last = JSON.stringify(box);
      return is_still && box;
    };
    const [left, top, width, height] = await awaited(selector, still);
    const x = Math.round(left + across * width);
    const y = Math.round(top + down * height);
    const move = { type: 'pointerMove', origin: 'viewport', duration: 0, x, y };
    const press = ['pointerDown', 'pointerUp'].map((type) => ({ type, button: 0 }));
    const finger = { type: 'pointer', id: 'finger', parameters: { pointerType: 'mouse' } };
    await this.engine.send('touch', { actions: [{ ...finger, actions: [move, ...press] }] });
  }

  /** Type into the field, or give a file to it, whose label begins with these words. */
  async type(label: string, text: string): Promise<void> {
    await this.act(new RegExp(`^${label}`), 'input', 'type', { text });
  }

  /** Press the figures of a number one by one. */
  async figures(figures: string): Promise<void> {
    for (const one of figures) await this.press(one === '.' ? /^point$/ : new RegExp(`^${one}$`));
  }

  /** What is shown may be drawn anew between finding and touching it: then it is found again. */
  private async act(name: RegExp, among: string, command: 'press' | 'type', params = {}) {
    let refusal: unknown;
    const done = async () => {
      const found = await this.run(find, name.source, among);
      if (!found) return false;
      try {
        await this.engine.send(command, { ...params, id: Object.values(found)[0] });
        return true;
      } catch (error) {
        if (!(error instanceof DriverRefused)) throw error;
        refusal = error;
        return false;
      }
    };
    await awaited(`${among} ${name}`, done).catch((error) => {
      throw new Error(`${error.message}${refusal ? ` The driver said: ${refusal}` : ''}`);
    });
  }

  async signIn(name: string): Promise<void> {
    await this.go('/');
    await this.press(new RegExp(`^${name}`));
    await this.figures(demoPerson(name).passcode);
    await this.press(/^SIGN IN/);
    await this.comesTo(/^\/./);
  }

  /** Give a file where the page asks for one; the system's own window for choosing stays shut. */
  async photograph(file: string, key = /^SHUTTER/): Promise<void> {
    await this.run(() => {
      const input = document.querySelector<HTMLElement>('input[type=file]');
      input?.addEventListener('click', (event) => {
        event.preventDefault();
        input.dataset.asked = 'yes';
      });
    });
    await this.press(key);
    const asked = () => this.run(() => Boolean(document.querySelector('input[data-asked]')));
    await expect.poll(asked, SOON).toBe(true);
    await this.type('Photograph', file);
  }
}

/** Runs in the page. A driver hands an element over as an object that holds its id. */
function find(source: string, among: string): Record<string, string> | null {
  const name = (element: HTMLElement) =>
    element.getAttribute('aria-label') ??
    (element instanceof HTMLInputElement ? element.labels?.[0]?.innerText : element.innerText) ??
    '';
  const found = [...document.querySelectorAll<HTMLElement>(among)].find(
    (one) => one.getClientRects().length > 0 && new RegExp(source).test(name(one).trim()),
  );
  return (found ?? null) as unknown as Record<string, string> | null;
}

/** Runs in the page. Where an element lies, null while it or a picture beside it is not drawn. */
function boxOf(selector: string): [number, number, number, number] | null {
  const element = document.querySelector(selector);
  const pictures = [...(element?.parentElement?.querySelectorAll('img') ?? [])];
  if (!element || pictures.some(({ complete, naturalWidth }) => !complete || naturalWidth === 0))
    return null;
  element.scrollIntoView({ block: 'nearest' });
  const { left, top, width, height } = element.getBoundingClientRect();
  return width * height > 0 ? [left, top, width, height] : null;
}
