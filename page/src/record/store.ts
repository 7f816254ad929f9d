// Where the events lie: IndexedDB, each write flushed to the medium before it counts (durability "strict").
// One object store for events by id, one for what belongs to this browser (its device number), one for drafts of sheets.
// Older schemas are migrated forward only, and never before a full export of what they hold is kept.
import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction } from 'idb';
import { hexOf } from './line';

export const NAME = 'baitfall';

/** An event as it lies there. `key` is its id; when the id came a second time with other bytes, both are kept. */
export interface KeptLine {
    key: string;
    line: string;
}

interface Schema extends DBSchema {
    events: { key: string; value: KeptLine };
    meta: { key: string; value: unknown };
    drafts: { key: string; value: unknown };
}
type Database = IDBPDatabase<Schema>;
export type Step = (
    database: Database,
    change: IDBPTransaction<Schema, ('events' | 'meta' | 'drafts')[], 'versionchange'>,
) => void;

/** The schema, one step a version. A step, once published, never changes. */
export const STEPS: readonly Step[] = [
    (database) => {
        database.createObjectStore('events', { keyPath: 'key' });
        database.createObjectStore('meta');
        database.createObjectStore('drafts');
    },
];

/** Where exports made before a migration lie: out of the database that is about to change. */
export const EXPORTS = 'record-exports';

async function exportBefore(database: Database): Promise<void> {
    const lines = (await database.getAll('events')).map(({ line }) => `${line}\n`);
    const cache = await caches.open(EXPORTS);
    const name = `journal-schema-${database.version}.jsonl`;
    await cache.put(name, new Response(lines.join(''), { headers: { 'content-type': 'application/jsonl' } }));
}

/** Opens at a version; rejects when another window's older page will not let go. */
function openAt(version: number | undefined, steps: readonly Step[], lost: () => void): Promise<Database> {
    return new Promise((resolve, reject) => {
        let isGivenUp = false;
        const opening = openDB<Schema>(NAME, version, {
            upgrade: (database, from, to, change) =>
                steps
                    .slice(from, to ?? undefined)
                    .forEach((step) => step(database, change as Parameters<Step>[1])),
            blocked: () => {
                isGivenUp = true;
                reject(new Error('Another window holds the record open.'));
            },
            blocking: (_from, _to, event) => {
                (event.target as IDBDatabase).close(); // a newer page may go on
                lost();
            },
            terminated: lost,
        });
        opening.then((database) => (isGivenUp ? database.close() : resolve(database)), reject);
    });
}

export class Store {
    private database: Promise<Database> | undefined;

    constructor(private readonly steps: readonly Step[] = STEPS) {}

    private async open(): Promise<Database> {
        const lost = () => (this.database = undefined);
        const found = await openAt(undefined, this.steps, lost);
        if (found.version === this.steps.length) return found;
        const isNewer = found.version > this.steps.length;
        if (!isNewer) await exportBefore(found);
        found.close();
        if (isNewer) throw new Error('The record was written by a newer Baitfall. Close all its windows and open it again.');
        return openAt(this.steps.length, this.steps, lost);
    }

    /** Does something with the database; after any failure the next try opens it afresh, since a full disk may leave it
     * readable only. */
    private async use<T>(what: (database: Database) => Promise<T>): Promise<T> {
        const opening = (this.database ??= this.open());
        try {
            return await what(await opening);
        } catch (fault) {
            if (this.database === opening) this.database = undefined;
            void opening.then(
                (database) => database.close(),
                () => undefined, // it was never open; the fault is thrown below
            );
            throw fault;
        }
    }

    /** This browser's device number, made once. */
    dev(): Promise<string> {
        return this.use(async (database) => {
            const change = database.transaction('meta', 'readwrite', { durability: 'strict' });
            const kept = await change.store.get('dev');
            const dev = typeof kept === 'string' ? kept : hexOf(4);
            if (dev !== kept) await change.store.put(dev, 'dev');
            await change.done;
            return dev;
        });
    }

    lines(): Promise<string[]> {
        return this.use(async (database) => (await database.getAll('events')).map(({ line }) => line));
    }

    /** All of them or none; returns once they are on the medium. Lines that are there already stay as they are. */
    add(lines: { id: string; line: string }[]): Promise<void> {
        return this.use(async (database) => {
            const change = database.transaction('events', 'readwrite', { durability: 'strict' });
            for (const { id, line } of lines) {
                let key = id;
                for (let there; (there = await change.store.get(key)) && there.line !== line; ) key += '+';
                await change.store.put({ key, line });
            }
            await change.done;
        });
    }

    meta<T>(key: string): Promise<T | undefined> {
        return this.use(async (database) => (await database.get('meta', key)) as T | undefined);
    }

    setMeta(key: string, value: unknown): Promise<void> {
        return this.put('meta', key, value);
    }

    /** What stands in a sheet that is not committed yet; undefined takes it away. */
    draft<T>(key: string): Promise<T | undefined> {
        return this.use(async (database) => (await database.get('drafts', key)) as T | undefined);
    }

    setDraft(key: string, value: unknown): Promise<void> {
        return this.put('drafts', key, value);
    }

    /** Its end is asked for together with it: a page that is left at once could not be asked for it any more, and the change
     * would be taken back. */
    private put(name: 'meta' | 'drafts', key: string, value: unknown): Promise<void> {
        return this.use(async (database) => {
            const change = database.transaction(name, 'readwrite');
            const put = value === undefined ? change.store.delete(key) : change.store.put(value, key);
            change.commit();
            await Promise.all([put, change.done]);
        });
    }
}
