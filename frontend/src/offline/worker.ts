/// <reference lib="webworker" />
/** Serves the app from this browser. The build writes VERSION and FILES above these lines. */

declare const VERSION: string;
declare const FILES: string[];

const worker = self as unknown as ServiceWorkerGlobalScope;

const NAME = `shell-${VERSION}`;

worker.addEventListener('install', (event) => {
  // Past the browser's own cache: a half-old shell would be kept until the next version.
  const requests = FILES.map((file) => new Request(file, { cache: 'reload' }));
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll(requests)));
});

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

async function takeOver(): Promise<void> {
  for (const key of await caches.keys()) {
    if (key.startsWith('shell-') && key !== NAME) await caches.delete(key);
  }
  await worker.clients.claim();
}

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(NAME);
  const kept = await cache.match(request.mode === 'navigate' ? '/' : request);
  return kept ?? fetch(request);
}
