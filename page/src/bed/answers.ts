// The shape of the answer to "bed" (docs/formats.md). It comes from the core; nothing is worked out here.
import type { Note, Picture } from '../questions';

/** Something believed: its middle and the range that holds it 8 times in 10; null: nobody can say. */
export interface Believed {
    mid: number | null;
    lo: number | null;
    hi: number | null;
    text: string; // "about 34 pieces (17-58)"
}
export interface LedgerRow {
    from: string;
    to: string;
    what: string;
    in: number | null;
    gone: Believed;
    text: string;
}
export interface BedAnswer {
    session: { id: string };
    at: string;
    spot: string;
    what: string; // what this is, and what it is not
    known: {
        fed: number | null;
        fed_hour: number | null;
        sentences: string[];
    };
    left: Believed & { word: string };
    fish: { word: string; band: string; text: string };
    ledger: LedgerRow[];
    sentence: string;
    rests_on: { text: string };
    notes: Note[];
    pictures?: Record<string, Picture>;
}
