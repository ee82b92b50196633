/// <reference lib="webworker" />
/** Serves the app from this browser. The build writes VERSION and FILES above these lines. */

declare const VERSION: string;
declare const FILES: string[];

const worker = self as unknown as ServiceWorkerGlobalScope;

const NAME = `shell-${VERSION}`;
/** Where it is noted which shell was the last to take over. */
const NOTES = 'shells';
const LAST = '/shells/last';

worker.addEventListener('install', (event) => event.waitUntil(keepShell()));

worker.addEventListener('activate', (event) => event.waitUntil(takeOver()));

worker.addEventListener('message', (event) => {
  if (event.data === 'skipWaiting') void worker.skipWaiting();
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== self.location.origin) return;
  if (address.pathname.startsWith('/api/')) return;
  event.respondWith(answer(request));
});

async function keepShell(): Promise<void> {
  const cache = await caches.open(NAME);
  // Past the browser's own cache: a half-old shell would be kept until the next version.
  await cache.addAll(FILES.map((file) => new Request(file, { cache: 'reload' })));
  const page = await (await cache.match('/'))?.text();
  if ((page?.match(/\/assets\/[\w.-]+/g) ?? []).every((file) => FILES.includes(file))) return;
  await caches.delete(NAME);
  throw new Error('The server was changed for another while its app was fetched.');
}

/** Keeps the shell before this one as well: pages of it may be open, and fetch screens late. */
async function takeOver(): Promise<void> {
  const notes = await caches.open(NOTES);
  const before = await (await notes.match(LAST))?.text();
  for (const key of await caches.keys()) {
    const isOlder = key.startsWith('shell-') && key !== NAME && key !== before;
    if (isOlder && before !== undefined) await caches.delete(key);
  }
  await notes.put(LAST, new Response(NAME));
  await worker.clients.claim();
}

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(NAME);
  const kept = await cache.match(request.mode === 'navigate' ? '/' : request);
  return kept ?? (await caches.match(request)) ?? fetch(request);
}
