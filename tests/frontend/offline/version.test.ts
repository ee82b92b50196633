import { describe, expect, it } from 'vitest';
import { type Surroundings, VersionWatch } from '../../../frontend/src/offline/version';

class Worker extends EventTarget {
  state = 'installing';
  readonly messages: unknown[] = [];
  onMessage = () => {};
  postMessage(message: unknown) {
    this.messages.push(message);
    this.onMessage();
  }
  become(state: string) {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
}

class Registration extends EventTarget {
  waiting: Worker | null = null;
  installing: Worker | null = null;
  updates = 0;
  unregistered = 0;
  async update() {
    this.updates += 1;
    throw new TypeError('server away');
  }
  async unregister() {
    this.unregistered += 1;
    return true;
  }
}

class Container extends EventTarget {
  controller: object | null = {};
  readonly asked: unknown[] = [];
  constructor(readonly registration: Registration) {
    super();
  }
  async register(...asked: unknown[]) {
    this.asked.push(asked);
    return this.registration;
  }
}

function scene(waiting: Worker | null = null, isServerHere = true) {
  const registration = new Registration();
  registration.waiting = waiting;
  const container = new Container(registration);
  const deleted: string[] = [];
  const told: boolean[] = [];
  let reloads = 0;
  const around = {
    workers: container as unknown as ServiceWorkerContainer,
    caches: {
      keys: async () => ['shell-old', 'maps'],
      delete: async (key: string) => deleted.push(key) > 0,
    } as unknown as CacheStorage,
    reload: () => {
      reloads += 1;
    },
    isServerHere: async () => isServerHere,
    wait_ms: 20,
  } satisfies Surroundings;
  const watch = new VersionWatch(around, () => told.push(watch.newVersion));
  return { watch, registration, container, deleted, told, reloads: () => reloads };
}

describe('VersionWatch', () => {
  it('registers past the cache of the browser', async () => {
    const { watch, container } = scene();
    await watch.start();
    expect(container.asked).toEqual([['/sw.js', { updateViaCache: 'none' }]]);
    expect(watch.newVersion).toBe(false);
  });

  it('tells of a version that was ready at the start and does not reload', async () => {
    const { watch, told, reloads } = scene(new Worker());
    await watch.start();
    expect([told, reloads()]).toEqual([[true], 0]);
  });

  it('tells once of a version that comes while the page is open', async () => {
    const { watch, registration, told, reloads } = scene();
    await watch.start();
    const coming = new Worker();
    registration.installing = coming;
    registration.dispatchEvent(new Event('updatefound'));
    expect(told).toEqual([]);
    coming.become('installed');
    coming.become('activating');
    expect([told, reloads()]).toEqual([[true], 0]);
  });

  it('says nothing of the first version of all', async () => {
    const { watch, registration, container, told } = scene();
    container.controller = null;
    await watch.start();
    const coming = new Worker();
    registration.installing = coming;
    registration.dispatchEvent(new Event('updatefound'));
    coming.become('installed');
    container.dispatchEvent(new Event('controllerchange'));
    expect(told).toEqual([]);
  });

  it('tells when another tab has taken the new version', async () => {
    const { watch, container, told, reloads } = scene();
    await watch.start();
    container.dispatchEvent(new Event('controllerchange'));
    expect([told, reloads()]).toEqual([[true], 0]);
  });

  it('reloads on request once the new version has taken over', async () => {
    const next = new Worker();
    const { watch, container, reloads, registration } = scene(next);
    await watch.start();
    next.onMessage = () => container.dispatchEvent(new Event('controllerchange'));
    await watch.takeNewVersion();
    expect([next.messages, reloads(), registration.unregistered]).toEqual([['skipWaiting'], 1, 0]);
  });

  it('starts afresh without the store when the old version will not go', async () => {
    const { watch, reloads, registration, deleted } = scene(new Worker());
    await watch.start();
    await watch.takeNewVersion();
    expect([registration.unregistered, deleted, reloads()]).toEqual([1, ['shell-old'], 1]);
  });

  it('keeps the old version where it will not go and the server is away', async () => {
    const { watch, registration, deleted, reloads } = scene(new Worker(), false);
    await watch.start();
    await watch.takeNewVersion();
    expect([registration.unregistered, deleted, reloads(), watch.newVersion]).toEqual([
      ...[0, [], 0, true],
    ]);
  });

  it('is silent when the server is away', async () => {
    const { watch, registration } = scene();
    await watch.start();
    await watch.check();
    expect(registration.updates).toBe(1);
  });
});
