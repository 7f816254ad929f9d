// Asks the workers, which compute. Answers come as JSON of the same shape that `baitfall --json` prints.
import { Desk } from './desk';

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
/** What a field accepts, in SI. */
export interface FormField {
    name: string;
    kind: string;
    least: number;
    most: number;
    start: number | string | null; // null: not given, or not known
    pm_name?: string; // of a quantity: the key of its give or take
    start_pm?: number | null;
    words?: string[]; // of a choice
    must?: boolean; // it has to be given
}

type ComputeDesk = Desk<{ command: string; request: string }, { answer: string }>;
const desks = new Map<string, ComputeDesk>();

/**
 * The answer to a command. Rejects with the error's own sentence when the core says that the request cannot be answered.
 */
export async function ask<T>(desk: string, command: string, request: object): Promise<T> {
    const kept = desks.get(desk);
    const at: ComputeDesk = kept && !kept.isDead ? kept : new Desk(WORKER);
    desks.set(desk, at);
    return answerIn<T>((await at.ask({ command, request: JSON.stringify(request) })).answer);
}

/** What a JSON answer of the core holds; throws its sentence when it is an error. */
export function answerIn<T>(text: string): T {
    const answer = JSON.parse(text) as T & { error?: { text: string } };
    if (answer.error) throw new Error(answer.error.text);
    return answer;
}
