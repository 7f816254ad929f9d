// A file from outside, counted before anything of it is kept: a journal, or everything of a browser. The counting is done in a
// core of its own.
import { Desk } from '../desk';
import { answerIn } from '../questions';
import { NO_DEVICE, eventOf, isEntry, type RecordEvent } from '../record/line';
import type { Recorder } from '../record/record';
import { compared, thingsOf, type Compared, type Head } from './everything';

declare const RECORD_WORKER: string;

interface Taken {
    taken: { new: number; known: number; clash: number };
    refused: { line: string; error: string }[];
    fresh: string[];
}
interface Numbered {
    number: number;
    line: string;
}
export interface Bad {
    number: number; // of the line
    why: string;
}

export interface Counts {
    new: number;
    known: number;
    clash: number;
    kept: Bad[]; // entries that this version does not understand: they are kept as they are
    bad: Bad[]; // no entries at all
    fresh: string[]; // the lines that are to be stored: new, clashing, and not understood
    nMissing: number; // a file of everything that was cut off: how many lines it should hold besides
    things?: Compared; // of a file of everything
}

/** What is wrong with a line, out of the core's answer. */
function sentenceOf(error: string): string {
    try {
        answerIn(error);
        return error;
    } catch (fault) {
        return (fault as Error).message;
    }
}

/** Line numbers of the refused lines, which come in the order of the file. */
function numbered(lines: readonly Numbered[], refused: Taken['refused']): (Numbered & Bad)[] {
    let at = 0;
    return refused.map(({ line, error }) => {
        while (lines[at]?.line !== line) at++;
        return { number: lines[at++]?.number ?? 0, line, why: sentenceOf(error) };
    });
}

function headIn(line: string | undefined): Head | undefined {
    try {
        const head = Object(JSON.parse(line ?? '')) as Partial<Head>;
        return head.everything === 1 ? ({ entries: 0, things: {}, ...head } as Head) : undefined;
    } catch {
        return undefined;
    }
}

/** The lines of a file; the first is taken off it when it is the head of everything. */
export function read(text: string): { head?: Head; lines: Numbered[] } {
    const lines = text
        .replace(/^\ufeff/, '')
        .split(/\r?\n/)
        .map((line, i) => ({ number: i + 1, line }))
        .filter(({ line }) => line.trim() !== '');
    const head = headIn(lines[0]?.line);
    return head ? { head, lines: lines.slice(1) } : { lines };
}

const REHEARSED = 'It is of a rehearsal, which did not take place.';
function isRehearsed({ line }: Numbered): boolean {
    try {
        return (Object(eventOf(line)) as Partial<RecordEvent>).dev === NO_DEVICE;
    } catch {
        return false; // why it cannot be read, the core says
    }
}

export async function count(recorder: Recorder, text: string): Promise<Counts> {
    const { head, lines: all } = read(text);
    const lines = all.filter((one) => !isRehearsed(one));
    const desk = new Desk<{ lines: string[] }, Taken>(RECORD_WORKER);
    try {
        const here = await recorder.everything();
        await desk.ask({ lines: here });
        const { taken, refused, fresh } = await desk.ask({ lines: lines.map(({ line }) => line) });
        const isHere = new Set(here);
        const kept: Bad[] = [];
        const bad: Bad[] = all.filter(isRehearsed).map(({ number }) => ({ number, why: REHEARSED }));
        for (const { number, line, why } of numbered(lines, refused)) {
            if (isHere.has(line)) taken.known++;
            else if (!isEntry(line)) bad.push({ number, why });
            else {
                isHere.add(line);
                fresh.push(line);
                kept.push({ number, why });
            }
        }
        return {
            ...taken,
            kept,
            bad,
            fresh,
            nMissing: Math.max(0, (head?.entries ?? 0) - all.length),
            ...(head && { things: compared(await thingsOf(recorder), head.things) }),
        };
    } finally {
        desk.end();
    }
}
