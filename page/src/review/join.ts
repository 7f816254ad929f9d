// A journal from another device: first counted in a core of its own, where nothing is kept, then added. Adding is a union:
// an old copy takes nothing away.
import { Desk } from '../desk';
import { eventOf, type RecordEvent } from '../record/line';
import type { Recorder } from '../record/record';
import { answerIn } from '../questions';

declare const RECORD_WORKER: string;

interface Taken {
    taken: { new: number; known: number; clash: number };
    refused: { line: string; error: string }[];
}

export interface Counts {
    new: number;
    known: number;
    clash: number;
    bad: { number: number; why: string }[]; // by line number
    good: string[]; // the lines that can be read
}

function sentenceOf(error: string): string {
    try {
        answerIn(error);
        return error;
    } catch (fault) {
        return (fault as Error).message;
    }
}

/** Line numbers of the refused lines, which come in the order of the file. */
function numbered(lines: readonly { number: number; line: string }[], refused: Taken['refused']): Counts['bad'] {
    let at = 0;
    return refused.map(({ line, error }) => {
        while (lines[at]?.line !== line) at++;
        return { number: lines[at++]?.number ?? 0, why: sentenceOf(error) };
    });
}

export async function count(recorder: Recorder, text: string): Promise<Counts> {
    const lines = text
        .replace(/^\ufeff/, '')
        .split(/\r?\n/)
        .map((line, i) => ({ number: i + 1, line }))
        .filter(({ line }) => line.trim() !== '');
    const desk = new Desk<{ lines: string[] }, Taken>(RECORD_WORKER);
    try {
        await desk.ask({ lines: await recorder.everything() });
        const { taken, refused } = await desk.ask({ lines: lines.map(({ line }) => line) });
        const bad = numbered(lines, refused);
        const isBad = new Set(bad.map(({ number }) => number));
        return { ...taken, bad, good: lines.filter(({ number }) => !isBad.has(number)).map(({ line }) => line) };
    } finally {
        desk.end();
    }
}

/** Adds the lines; what was new. */
export async function join(recorder: Recorder, lines: string[]): Promise<RecordEvent[]> {
    return (await recorder.join(lines)).fresh.map(eventOf);
}
