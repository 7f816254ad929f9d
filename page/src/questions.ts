// Asks the workers, which compute. Answers come as JSON of the same shape that `baitfall --json` prints.
declare const WORKER: string;

/** A computed quantity in the unit at the end of its key; text is ready to read: "12 s (10-15)". */
export interface Quantity {
    nominal: number | null;
    mid: number | null;
    lo: number | null;
    hi: number | null;
    text: string;
    mostly?: string;
}
export interface Note {
    code: string;
    text: string;
}
export interface Picture {
    svg: string;
    finding: string;
    table: string[][];
}
export interface Answer {
    inputs: Record<string, Record<string, unknown>>;
    notes: Note[];
    pictures?: Record<string, Picture>;
    [output: string]: unknown;
}
/** One bait or pot of the catalogue of generic ones. */
export interface CatalogueEntry {
    word: string;
    title: string;
}
/** What a field accepts. */
export interface FormField {
    name: string;
    least: number;
    most: number;
}

interface Reply {
    id: number;
    answer?: string;
    fault?: string;
}

/** A worker with a core of its own, and who waits for which of its answers. */
class Desk {
    private readonly worker = new Worker(WORKER);
    private readonly waiting = new Map<number, { resolve: (text: string) => void; reject: (fault: Error) => void }>();
    private lastId = 0;

    constructor() {
        this.worker.onmessage = (event: MessageEvent<Reply>) => {
            const { id, answer, fault } = event.data;
            const asker = this.waiting.get(id);
            this.waiting.delete(id);
            if (answer !== undefined) asker?.resolve(answer);
            else asker?.reject(new Error(fault));
        };
        this.worker.onerror = (event) => {
            for (const asker of this.waiting.values())
                asker.reject(new Error(event.message || 'The worker did not start.'));
            this.waiting.clear();
        };
    }

    ask(command: string, request: string): Promise<string> {
        const id = ++this.lastId;
        return new Promise((resolve, reject) => {
            this.waiting.set(id, { resolve, reject });
            this.worker.postMessage({ id, command, request });
        });
    }
}

const desks = new Map<string, Desk>();

/**
 * The answer to a command. Questions at one desk wait for each other; desks work side by side. Rejects with the error's
 * own sentence when the core says that the request cannot be answered.
 */
export async function ask<T>(desk: string, command: string, request: object): Promise<T> {
    const at = desks.get(desk) ?? new Desk();
    desks.set(desk, at);
    const answer = JSON.parse(await at.ask(command, JSON.stringify(request))) as T & { error?: { text: string } };
    if (answer.error) throw new Error(answer.error.text);
    return answer;
}
