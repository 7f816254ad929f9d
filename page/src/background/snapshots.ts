// Snapshots of beliefs, by key, in a database of their own: losing it costs time and nothing else. The ones used last are kept.
// What sessions told lies beside them; it is not in the index, so that it is not counted and stays.
import { done } from '../wait';

export const NAME = 'baitfall-beliefs';
const STORE = 'snapshots';
/** A snapshot of a spot is some 1.5 MB; one is left every ten minutes of a session. */
const MOST = 8;

export interface Kept {
    key: string;
    used: number; // a count that only rises: which was used last
    bytes: Uint8Array;
}
export interface Lesson {
    key: string;
    of: string; // what it was worked out from, and by what
    summary: unknown;
}

async function open(): Promise<IDBDatabase> {
    const opening = indexedDB.open(NAME, 1);
    opening.onupgradeneeded = () =>
        opening.result.createObjectStore(STORE, { keyPath: 'key' }).createIndex('used', 'used');
    const database = await done(opening);
    database.onversionchange = () => database.close();
    return database;
}

export class Snapshots {
    private database: Promise<IDBDatabase> | undefined;

    /** A store that does not open or is full holds nothing: then beliefs are worked out from the beginning. */
    private async use<T>(mode: IDBTransactionMode, what: (store: IDBObjectStore) => Promise<T>): Promise<T | undefined> {
        try {
            const database = await (this.database ??= open());
            return await what(database.transaction(STORE, mode).objectStore(STORE));
        } catch (fault) {
            this.database = undefined;
            console.warn('No snapshots of the belief:', fault);
            return undefined;
        }
    }

    /** The newest of these that is there, newest last. */
    find<T extends Kept | Lesson>(keys: readonly string[]): Promise<T | undefined> {
        return this.use('readonly', async (store) => {
            for (const key of [...keys].reverse()) {
                const kept = await done<T | undefined>(store.get(key));
                if (kept) return kept;
            }
            return undefined;
        });
    }

    /** All that sessions told. */
    async lessons(): Promise<Lesson[]> {
        const all = await this.use('readonly', (store) => done<(Kept | Lesson)[]>(store.getAll()));
        return (all ?? []).filter((one): one is Lesson => 'of' in one);
    }

    async put(lesson: Lesson): Promise<void> {
        await this.use('readwrite', (store) => done(store.put(lesson)));
    }

    async keep(key: string, bytes: Uint8Array): Promise<void> {
        await this.use('readwrite', async (store) => {
            const last = await done(store.index('used').openCursor(null, 'prev'));
            const used = ((last?.value as Kept | undefined)?.used ?? 0) + 1;
            await done(store.put({ key, used, bytes } satisfies Kept));
            const keys = await done(store.index('used').getAllKeys());
            for (const old of keys.slice(0, -MOST)) await done(store.delete(old));
        });
    }
}
