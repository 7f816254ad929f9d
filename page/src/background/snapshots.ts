// Snapshots of beliefs, by key, in a database of their own: losing it costs time and nothing else. The ones used last are kept.
import { openDB, type DBSchema } from 'idb';

const NAME = 'baitfall-beliefs';
/** A snapshot is about 1 MB; one is left every ten minutes of a session. */
const MOST = 8;

interface Kept {
    key: string;
    used: number; // a count that only rises: which was used last
    bytes: Uint8Array;
}
interface Schema extends DBSchema {
    snapshots: { key: string; value: Kept; indexes: { used: number } };
}

async function open() {
    return openDB<Schema>(NAME, 1, {
        upgrade: (database) => void database.createObjectStore('snapshots', { keyPath: 'key' }).createIndex('used', 'used'),
        blocking: (_from, _to, event) => (event.target as IDBDatabase).close(),
    });
}

export class Snapshots {
    private database: ReturnType<typeof open> | undefined;

    /** A store that does not open or is full holds nothing: then beliefs are worked out from the beginning. */
    private async use<T>(what: (database: Awaited<ReturnType<typeof open>>) => Promise<T>): Promise<T | undefined> {
        const opening = (this.database ??= open());
        try {
            return await what(await opening);
        } catch (fault) {
            this.database = undefined;
            console.warn('No snapshots of the belief:', fault);
            return undefined;
        }
    }

    /** The newest of these that is there, newest last. */
    find(keys: readonly string[]): Promise<Kept | undefined> {
        return this.use(async (database) => {
            for (const key of [...keys].reverse()) {
                const kept = await database.get('snapshots', key);
                if (kept) return kept;
            }
            return undefined;
        });
    }

    async keep(key: string, bytes: Uint8Array): Promise<void> {
        await this.use(async (database) => {
            const change = database.transaction('snapshots', 'readwrite');
            const last = await change.store.index('used').openCursor(null, 'prev');
            await change.store.put({ key, used: (last?.value.used ?? 0) + 1, bytes });
            const keys = await change.store.index('used').getAllKeys();
            for (const old of keys.slice(0, -MOST)) await change.store.delete(old);
            await change.done;
        });
    }
}
