// Whether the page will open without a connection, asked of the service worker and said in words; and that worker told of an
// open session, in which no newer build may take over.

interface Kept {
    missing: string[];
    kept: number;
}
export interface Offline {
    words: string; // "yes. All 14 files are kept on this device."
    isReady: boolean;
    isInCharge: boolean; // this window is answered from what is kept
    isNewer: boolean; // a newer build waits
}

/** The page's own script: its name holds the hash of all that it fetches, so that it tells which build this is. */
const PAGE_FILE = (document.querySelector('script[type=module]') as HTMLScriptElement).src;

function askWorker(worker: ServiceWorker): Promise<Kept> {
    return new Promise((resolve) => {
        const channel = new MessageChannel();
        channel.port1.onmessage = (event: MessageEvent<Kept>) => resolve(event.data);
        worker.postMessage(PAGE_FILE, [channel.port2]);
    });
}

const no = (why: string): Offline => ({ words: `no. ${why}`, isReady: false, isInCharge: false, isNewer: false });
const REFUSED =
    'This browser does not let the page keep its files, in a private window for instance. Everything else works while there is a connection.';

/** Starts the service worker, and looks for a newer build, which then waits for the next start without a session. */
export async function offline(): Promise<Offline> {
    if (!('serviceWorker' in navigator)) return no('This address gives the page no storage; it needs https or localhost.');
    try {
        const registration: ServiceWorkerRegistration | undefined = await navigator.serviceWorker.register('service.js', { updateViaCache: 'none' });
        if (!registration) return no(REFUSED);
        if (navigator.onLine) void registration.update().catch(() => undefined);
        const { active, waiting } = await navigator.serviceWorker.ready;
        if (!active) return no('');
        const { missing, kept } = await askWorker(active);
        const isReady = missing.length === 0;
        const words = isReady
            ? `yes. All ${kept} files are kept on this device.`
            : `no. Not kept: ${missing.join(', ')}. Open the page once with a connection.`;
        return { words, isReady, isInCharge: navigator.serviceWorker.controller !== null, isNewer: waiting !== null };
    } catch (fault) {
        console.warn('The page is not kept:', fault);
        return no(REFUSED);
    }
}

export const startOffline = async (): Promise<string> => `Ready offline: ${(await offline()).words}`;

/** The name under which it stands in a cache that a session is open: where the service worker can read it. */
export const SESSION = 'open-session';

/** While a session is open, whatever is closed and opened again stays the build that it began with. */
export async function holdBuild(isLive: boolean): Promise<void> {
    if (!('caches' in self)) return;
    try {
        await (isLive ? caches.open(SESSION) : caches.delete(SESSION));
    } catch (fault) {
        console.warn('A newer build may take over in the session:', fault);
    }
}
