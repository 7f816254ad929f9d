// The service worker: keeps every file of one build that this browser uses and answers from what it kept, so that the
// page opens without a connection. A newer build is fetched beside it and waits until no page of the older one is open.
import { CORE_FILE } from './simd';

declare const self: ServiceWorkerGlobalScope;
declare const FILES: string[];
declare const VERSION: string;

const PREFIX = 'baitfall-';
const CACHE = PREFIX + VERSION;
const KEPT = [...FILES, CORE_FILE];

async function keepAll(): Promise<void> {
    const cache = await caches.open(CACHE);
    await cache.addAll(KEPT.map((file) => new Request(file, { cache: 'reload' })));
}

async function dropOlder(): Promise<void> {
    const names = await caches.keys();
    await Promise.all(
        names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)),
    );
    await self.clients.claim();
}

async function answer(request: Request): Promise<Response> {
    const cache = await caches.open(CACHE);
    return (await cache.match(request, { ignoreSearch: true })) ?? fetch(request);
}

/** Which files are not kept, by name: none when the page is ready to open offline. */
async function missing(): Promise<string[]> {
    const cache = await caches.open(CACHE);
    const found = await Promise.all(KEPT.map((file) => cache.match(file)));
    return KEPT.filter((_, i) => !found[i]);
}

self.addEventListener('install', (event) => event.waitUntil(keepAll()));
self.addEventListener('activate', (event) => event.waitUntil(dropOlder()));
self.addEventListener('fetch', (event) => {
    if (event.request.method === 'GET' && new URL(event.request.url).origin === location.origin)
        event.respondWith(answer(event.request));
});
self.addEventListener('message', (event) => {
    event.waitUntil(missing().then((files) => event.ports[0]?.postMessage({ missing: files, kept: KEPT.length })));
});
