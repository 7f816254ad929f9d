// Whether the page will open without a connection, asked of the service worker and said in words.

interface Kept {
    missing: string[];
    kept: number;
}

function askWorker(worker: ServiceWorker): Promise<Kept> {
    return new Promise((resolve) => {
        const channel = new MessageChannel();
        channel.port1.onmessage = (event: MessageEvent<Kept>) => resolve(event.data);
        worker.postMessage('what is missing', [channel.port2]);
    });
}

const REFUSED =
    'Ready offline: no. This browser does not let the page keep its files, in a private window for instance. Everything else works while there is a connection.';

/** Starts the service worker, and looks for a newer build, which then waits for the next start. */
export async function startOffline(): Promise<string> {
    if (!('serviceWorker' in navigator))
        return 'Ready offline: no. This address gives the page no storage; it needs https or localhost.';
    try {
        const registration: ServiceWorkerRegistration | undefined = await navigator.serviceWorker.register('service.js', { updateViaCache: 'none' });
        if (!registration) return REFUSED;
        if (navigator.onLine) void registration.update().catch(() => undefined);
        const { active } = await navigator.serviceWorker.ready;
        if (!active) return 'Ready offline: no.';
        const { missing, kept } = await askWorker(active);
        if (missing.length > 0)
            return `Ready offline: no. Not kept: ${missing.join(', ')}. Open the page once with a connection.`;
        return `Ready offline: yes. All ${kept} files are kept on this device.`;
    } catch (fault) {
        console.warn('The page is not kept:', fault);
        return REFUSED;
    }
}
