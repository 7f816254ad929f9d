// Where the events lie: IndexedDB, each write flushed to the medium before it counts (durability "strict").
// One object store for events by id, one for what belongs to this browser (its device number), one for drafts of sheets.
// Older schemas are migrated forward only, and never before a full export of what they hold is kept.
import { done, ended } from '../wait';

export const NAME = 'baitfall';

/** An event as it lies there. `key` is its id; when the id came a second time with other bytes, both are kept. */
export interface KeptLine {
    key: string;
    line: string;
}

export type Step = (database: IDBDatabase) => void;

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

async function exportBefore(database: IDBDatabase): Promise<void> {
    const lines = (await linesIn(database)).map((line) => `${line}\n`);
    const cache = await caches.open(EXPORTS);
    const name = `journal-schema-${database.version}.jsonl`;
    await cache.put(name, new Response(lines.join(''), { headers: { 'content-type': 'application/jsonl' } }));
}

/** Opens at a version; rejects when another window's older page will not let go. */
function openAt(version: number | undefined, steps: readonly Step[], lost: () => void): Promise<IDBDatabase> {
    const opening = indexedDB.open(NAME, version);
    return new Promise((resolve, reject) => {
        let isGivenUp = false;
        opening.onupgradeneeded = ({ oldVersion: from, newVersion: to }) =>
            steps.slice(from, to ?? undefined).forEach((step) => step(opening.result));
        opening.onblocked = () => {
            isGivenUp = true;
            reject(new Error('Another window holds the record open.'));
        };
        done(opening).then((database) => {
            database.onversionchange = () => {
                database.close(); // a newer page may go on
                lost();
            };
            database.onclose = lost;
            if (isGivenUp) database.close();
            else resolve(database);
        }, reject);
    });
}

const linesIn = async (database: IDBDatabase): Promise<string[]> => {
    const kept = await done<KeptLine[]>(database.transaction('events').objectStore('events').getAll());
    return kept.map(({ line }) => line);
};

export class Store {
    private database: Promise<IDBDatabase> | undefined;
    private isOver = false;

    constructor(private readonly steps: readonly Step[] = STEPS) {}

    private async open(): Promise<IDBDatabase> {
        if (this.isOver) throw new Error('The record was given up.');
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
    private async use<T>(what: (database: IDBDatabase) => Promise<T>): Promise<T> {
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

    /** This browser's device number, made once. @param fresh  the one to keep when there is none */
    dev(fresh: string): Promise<string> {
        return this.use(async (database) => {
            const change = database.transaction('meta', 'readwrite', { durability: 'strict' });
            const store = change.objectStore('meta');
            const kept = await done<unknown>(store.get('dev'));
            const dev = typeof kept === 'string' ? kept : fresh;
            if (dev !== kept) store.put(dev, 'dev');
            await ended(change);
            return dev;
        });
    }

    lines(): Promise<string[]> {
        return this.use(linesIn);
    }

    /** All of them or none; returns once they are on the medium. Lines that are there already stay as they are. */
    add(lines: { id: string; line: string }[]): Promise<void> {
        return this.use(async (database) => {
            const change = database.transaction('events', 'readwrite', { durability: 'strict' });
            const whole = ended(change);
            const store = change.objectStore('events');
            const put = async () => {
                for (const { id, line } of lines) {
                    let key = id;
                    for (let there; (there = await done<KeptLine | undefined>(store.get(key))) && there.line !== line; ) key += '+';
                    await done(store.put({ key, line }));
                }
            };
            const puts = put().catch((fault: unknown) => {
                change.abort(); // what was put before the fault would stay
                throw fault;
            });
            await Promise.all([puts, whole]);
        });
    }

    meta<T>(key: string): Promise<T | undefined> {
        return this.get<T>('meta', key);
    }

    setMeta(key: string, value: unknown): Promise<void> {
        return this.put('meta', key, value);
    }

    /** What stands in a sheet that is not committed yet; undefined takes it away. */
    draft<T>(key: string): Promise<T | undefined> {
        return this.get<T>('drafts', key);
    }

    setDraft(key: string, value: unknown): Promise<void> {
        return this.put('drafts', key, value);
    }

    /** All of what belongs to this browser, or of its drafts, by key. */
    entries(name: 'meta' | 'drafts'): Promise<Record<string, unknown>> {
        return this.use(async (database) => {
            const store = database.transaction(name).objectStore(name);
            const [keys, values] = await Promise.all([done(store.getAllKeys()), done<unknown[]>(store.getAll())]);
            return Object.fromEntries(keys.map((key, i) => [String(key), values[i]]));
        });
    }

    /** Lets go of the database for good: nothing is read or written any more. */
    end(): void {
        this.isOver = true;
        void this.database?.then((database) => database.close());
        this.database = undefined;
    }

    private get<T>(name: 'meta' | 'drafts', key: string): Promise<T | undefined> {
        return this.use((database) => done<T | undefined>(database.transaction(name).objectStore(name).get(key)));
    }

    /** Its end is asked for together with it: a page that is left at once could not be asked for it any more, and the change
     * would be taken back. */
    private put(name: 'meta' | 'drafts', key: string, value: unknown): Promise<void> {
        return this.use(async (database) => {
            const change = database.transaction(name, 'readwrite');
            const whole = ended(change);
            const store = change.objectStore(name);
            const put: Promise<unknown> = value === undefined ? done(store.delete(key)) : done(store.put(value, key));
            change.commit();
            await Promise.all([put, whole]);
        });
    }
}
