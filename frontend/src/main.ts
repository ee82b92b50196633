/** Wires the app: opens the book of this browser, then shows the screen of the address. */

import './furniture/tokens.css';
import './furniture/base.css';
import './offline/start.css';
import { Component, type ComponentType, Fragment, h, render } from 'preact';
import { Key } from './furniture/key';
import { ErrorFrame } from './furniture/notice';
import { thisBrowser, VersionWatch } from './offline/version';
import { matchRoute, ROUTES } from './routes';
import Airframe from './screens/airframe/screen';
import { againLater } from './screens/frame/again_later';
import { awake } from './screens/frame/awake';
import { showKeySize } from './screens/frame/key_size';
import { showLight } from './screens/frame/light';
import { type OpenShop, openShop } from './services/open';
import { keepExchanging, thisPage } from './services/rounds';
import type { ScreenProps, Session } from './services/shop';

showLight();
showKeySize();

type Screen = ComponentType<ScreenProps>;

/** Name of this build, as its script is called: the server tells by it whether it is its own. */
const BUILD = /-([\w-]+)\.js$/.exec(import.meta.url)?.[1] ?? 'development';

const FOLDERS = import.meta.glob<{ default: Screen }>([
  './screens/*/screen.tsx',
  '!./screens/airframe/screen.tsx',
]);

/** Loads the screen of a folder; every screen comes with the app, so this needs no network.

The airframe’s is part of the start itself: in most starts of a tablet it is the first. */
async function loadScreen(folder: string): Promise<Screen> {
  if (folder === 'airframe') return Airframe;
  const load = FOLDERS[`./screens/${folder}/screen.tsx`];
  if (!load) throw new Error(`There is no screen ‘${folder}’.`);
  return (await load()).default;
}

/** A part of the app that did not come: every browser tells it as a TypeError. */
const NOT_FETCHED =
  'This screen could not be fetched: the server does not answer, or has another version by now. What was recorded is stored on this tablet, and what waits still waits. Reload the page.';

interface Shown {
  address: string;
  screen: Screen | null;
  problem: string | null;
}

class App extends Component<{ shop: OpenShop }, Shown> {
  override state: Shown = { address: here(), screen: null, problem: null };

  override componentDidMount() {
    addEventListener('popstate', () => this.show(here()));
    document.addEventListener('click', (event) => this.follow(event));
    this.props.shop.subscribe(() => this.change());
    this.show(here(), LATER_MS);
  }

  override render() {
    const { shop } = this.props;
    const { address, screen, problem } = this.state;
    const sentence = shop.fault ?? problem;
    if (sentence !== null) return notice(sentence);
    const match = matchRoute(pathOf(address));
    if (!match || !screen) return null;
    const params = { ...queryOf(address), ...match.params };
    const { folder } = match.route;
    const go: ScreenProps['go'] = (to, how) => this.go(to, how);
    const isReady = shop.version.newVersion && BETWEEN_JOBS.includes(folder);
    return h(Fragment, null, [
      isReady ? newVersion(shop) : null,
      h(screen, { shop, params, go, key: folder }),
    ]);
  }

  private go(address: string, how?: 'replace') {
    if (how === 'replace') history.replaceState(null, '', address);
    else history.pushState(null, '', address);
    this.show(address);
  }

  private change() {
    const { route } = matchRoute(pathOf(this.state.address)) ?? {};
    if (route && this.isShut(route.needs)) this.show(this.state.address);
    else this.forceUpdate();
  }

  private isShut(needs: string): boolean {
    const { shop } = this.props;
    return needs !== 'nothing' && (!shop.device || (needs === 'session' && !shop.session));
  }

  private show(address: string, kept_after_ms = 0) {
    const { shop } = this.props;
    const match = matchRoute(pathOf(address));
    if (!match) {
      this.setState({ address, screen: null, problem: `There is no page at ${pathOf(address)}.` });
      return;
    }
    if (this.isShut(match.route.needs)) {
      if (shop.device) shop.places.wanted = address;
      this.go('/', 'replace');
      return;
    }
    if (shop.session && shop.device && match.route.needs === 'session') {
      this.keepAddress(shop.session, address, kept_after_ms);
    }
    void this.load(address, match.route.folder);
  }

  private keepAddress(session: Session, address: string, after_ms: number) {
    const keep = () => void this.props.shop.places.keepAddress(session, address);
    if (after_ms === 0) keep();
    else setTimeout(() => here() === address && keep(), after_ms);
  }

  private async load(address: string, folder: string) {
    const before = matchRoute(pathOf(this.state.address))?.route.folder;
    if (before === folder && this.state.screen) {
      this.setState({ address, problem: null });
      return;
    }
    try {
      const screen = await loadScreen(folder);
      if (pathOf(here()) === pathOf(address)) this.setState({ address, screen, problem: null });
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      const other = `The screen could not be opened: ${reason} Reload the page.`;
      const problem = error instanceof TypeError ? NOT_FETCHED : other;
      this.setState({ address, screen: null, problem });
    }
  }

  /** Links inside the app change the screen without loading the page anew. */
  private follow(event: MouseEvent) {
    const link = (event.target as Element | null)?.closest?.('a');
    const isPlain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey;
    if (!link || !isPlain || event.defaultPrevented || link.target || link.download) return;
    const to = new URL(link.href);
    if (to.origin !== location.origin || to.pathname.startsWith('/api/')) return;
    if (!matchRoute(to.pathname)) return;
    event.preventDefault();
    this.go(to.pathname + to.search);
  }
}

function notice(sentence: string) {
  const again = h(Key, { label: 'RELOAD', kind: 'main', onPress: () => location.reload() });
  const first = h(Key, { label: 'FIRST PAGE', onPress: () => location.assign('/') });
  return h('main', { class: 'start-notice' }, [
    h('h1', null, 'Skinpin'),
    h(ErrorFrame, { title: 'This page can’t go on', text: sentence }, [again, first]),
  ]);
}

/** Where nobody is in the middle of a record. */
const BETWEEN_JOBS = ['sign_in', 'waiting'];

function newVersion(shop: OpenShop) {
  const text = 'A new version of Skinpin is ready. What waits on this tablet stays stored.';
  const take = () => void shop.version.takeNewVersion();
  return h('aside', { class: 'new-version', 'aria-label': 'New version' }, [
    h('p', { role: 'status' }, text),
    h(Key, { label: 'TAKE THE NEW VERSION', onPress: take }),
  ]);
}

function here(): string {
  return location.pathname + location.search;
}

function pathOf(address: string): string {
  return address.split('?')[0] as string;
}

function queryOf(address: string): Record<string, string> {
  return Object.fromEntries(new URLSearchParams(address.split('?')[1] ?? ''));
}

/** What nobody waits for comes so long after the first sheet, which it would only hold up. */
const LATER_MS = 1500;

/** Screens are loaded ahead, so that a new version taken in another tab breaks none of them: one
after the other, while nobody touches anything. */
async function loadAhead() {
  for (const folder of new Set(ROUTES.map((route) => route.folder))) {
    await idle();
    await loadScreen(folder).catch(() => {});
  }
}

function idle(): Promise<void> {
  return new Promise((done) => {
    if ('requestIdleCallback' in globalThis) requestIdleCallback(() => done(), { timeout: 10_000 });
    else setTimeout(done, 100);
  });
}

async function start(root: Element) {
  let shop: OpenShop | null = null;
  // The screen comes while the book is opened, not after it.
  void loadScreen(matchRoute(location.pathname)?.route.folder ?? 'sign_in').catch(() => {});
  const watch = new VersionWatch(thisBrowser(), () => shop?.tell());
  const again = againLater(root);
  try {
    const opening = openShop(watch, { again: again.told, app: BUILD });
    opening.catch(() => {}); // It is waited for below, once the screen is kept awake.
    shop = await awake(() => opening);
    again.end();
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    render(notice(`The book of this browser could not be opened: ${reason}`), root);
    return;
  }
  const open = shop;
  render(h(App, { shop: open }), root);
  const exchange = () => (open.device ? open.exchange : null);
  setTimeout(() => keepExchanging(exchange, (act) => open.onWritten(act), thisPage()), LATER_MS);
  document.addEventListener('visibilitychange', () => void watch.check());
  addEventListener('pagehide', (event) => event.persisted && open.letGo());
  addEventListener('pageshow', (event) => event.persisted && location.reload());
  setTimeout(loadAhead, 2 * LATER_MS);
  await watch.start().catch(() => {}); // Without a secure address there is no worker: it still works.
}

void start(document.getElementById('app') as Element);
