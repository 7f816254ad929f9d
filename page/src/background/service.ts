// The service worker: keeps every file of one build that this browser uses and answers from what it kept, so that the
// page opens without a connection. A newer build is fetched beside it and waits until no page of the older one is open; in
// an open session it goes on waiting then too: the browser starts its worker, which answers from the older build.
import { ANSWER_FILE, JOURNAL_FILE } from './simd';

declare const self: ServiceWorkerGlobalScope;
declare const FILES: string[];
declare const VERSION: string;

const PREFIX = 'baitfall-';
const CACHE = PREFIX + VERSION;
const KEPT = [...FILES, ANSWER_FILE, JOURNAL_FILE];
const SESSION = 'open-session'; // there while a session is open (offline.ts)

async function keepAll(): Promise<void> {
    const cache = await caches.open(CACHE);
    // What the page has fetched already is only asked after.
    await cache.addAll(KEPT.map((file) => new Request(file, { cache: 'no-cache' })));
}

/** What is kept of builds, oldest first. */
const builds = async (): Promise<string[]> => (await caches.keys()).filter((name) => name.startsWith(PREFIX));

/** Once a page of this build is the only window, and no session is open, nothing needs the others. */
async function dropOthers(pageFile: string): Promise<void> {
    const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
    if (windows.length > 1 || (await caches.has(SESSION)) || !KEPT.some((file) => pageFile.endsWith(`/${file}`))) return;
    const others = (await builds()).filter((name) => name !== CACHE);
    await Promise.all(others.map((name) => caches.delete(name)));
}

/** Names hold the hash of what is in the file: only for the page's own address does it matter which build answers. */
async function answer(request: Request): Promise<Response> {
    const names = await builds();
    if (!(await caches.has(SESSION))) names.unshift(CACHE);
    for (const cacheName of names) {
        const found = await caches.match(request, { cacheName, ignoreSearch: true });
        if (found) return found;
    }
    return fetch(request);
}

/** Which files are not kept, by name: none when the page is ready to open offline. */
async function missing(): Promise<string[]> {
    const cache = await caches.open(CACHE);
    const found = await Promise.all(KEPT.map((file) => cache.match(file)));
    return KEPT.filter((_, i) => !found[i]);
}

self.addEventListener('install', (event) => event.waitUntil(keepAll()));
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));
self.addEventListener('fetch', (event) => {
    if (event.request.method === 'GET' && new URL(event.request.url).origin === location.origin)
        event.respondWith(answer(event.request));
});
self.addEventListener('message', (event) => {
    const tell = async () => {
        await dropOthers(String(event.data));
        event.ports[0]?.postMessage({ missing: await missing(), kept: KEPT.length });
    };
    event.waitUntil(tell());
});
