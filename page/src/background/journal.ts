// A journal in a core, for the workers that hold one.
import type { Core, Taken } from './core';

export interface TakenLines {
    taken: Record<Taken, number>;
    refused: { line: string; error: string }[];
    fresh: string[]; // lines that were not known before, clashes included
}

/** A journal that makes itself more room when it is full. */
export class Journal {
    private readonly kept: string[] = [];
    private nKeptText = 0;
    private nEvents = 1024;
    private nText = 256 * 1024;

    constructor(private readonly core: Core) {
        this.makeRoom();
    }

    private makeRoom(): void {
        if (!this.core.journalRoom(this.nEvents, this.nText))
            throw new Error('There is no memory for a journal of this size.');
        for (const line of this.kept) this.core.journalTake(line);
    }

    /** A line may lack room for other reasons too (too many names): then more of it would not help. */
    private isHalfFull(): boolean {
        return this.kept.length >= this.nEvents / 2 || this.nKeptText >= this.nText / 2;
    }

    take(line: string): ReturnType<Core['journalTake']> {
        let result = this.core.journalTake(line);
        if ('refused' in result && lacksRoom(result.refused) && this.isHalfFull()) {
            this.nEvents *= 2;
            this.nText = 2 * Math.max(this.nText, line.length);
            this.makeRoom();
            result = this.core.journalTake(line);
        }
        if ('taken' in result && result.taken !== 'known') {
            this.kept.push(line);
            this.nKeptText += line.length;
        }
        return result;
    }
}

function lacksRoom(refused: string): boolean {
    return (JSON.parse(refused) as { error?: { code?: string } }).error?.code === 'space';
}

export function takeAll(journal: Journal, lines: string[]): TakenLines {
    const all: TakenLines = { taken: { new: 0, known: 0, clash: 0 }, refused: [], fresh: [] };
    for (const line of lines) {
        const result = journal.take(line);
        if ('refused' in result) all.refused.push({ line, error: result.refused });
        else {
            all.taken[result.taken]++;
            if (result.taken !== 'known') all.fresh.push(line);
        }
    }
    return all;
}
