// Asks the worker, which computes. Answers come as JSON of the same shape that `baitfall --json` prints.
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
/** One entry of the catalogue of generic baits. */
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

const worker = new Worker(WORKER, { type: 'module' });
const waiting = new Map<number, { resolve: (text: string) => void; reject: (fault: Error) => void }>();
let lastId = 0;

worker.onmessage = (event: MessageEvent<Reply>) => {
    const { id, answer, fault } = event.data;
    const asker = waiting.get(id);
    waiting.delete(id);
    if (answer !== undefined) asker?.resolve(answer);
    else asker?.reject(new Error(fault));
};
worker.onerror = (event) => {
    for (const asker of waiting.values()) asker.reject(new Error(event.message || 'the worker did not start'));
    waiting.clear();
};

/** Rejects with the error's own sentence when the core says the request cannot be answered. */
export async function ask<T>(command: string, request: object): Promise<T> {
    const id = ++lastId;
    const text = await new Promise<string>((resolve, reject) => {
        waiting.set(id, { resolve, reject });
        worker.postMessage({ id, command, request: JSON.stringify(request) });
    });
    const answer = JSON.parse(text) as T & { error?: { text: string } };
    if (answer.error) throw new Error(answer.error.text);
    return answer;
}
