// The shapes of the journal's answers (docs/formats.md). They come from the core; nothing is worked out here.
import type { Kind, RecordEvent } from './line';
import type { Note, Quantity } from '../questions';

export interface SessionOf {
    id: string;
    venue: string | null;
    peg: string | null;
    opened: string | null; // null when all of it is crossed out
    closed: string | null;
    n_events: number;
}
/** So long ago, or running for so long; the text is ready to read: "2:10", "12 min", "2 h". */
export interface Span {
    s: number | null;
    text: string;
}
export type OutcomeWord = 'fish' | 'missed' | 'lost' | 'touch' | 'foul' | 'nothing';

export interface LastFeed {
    spot: string | null;
    bait: string;
    how: string | null;
    count?: number;
    volume_m3?: number;
    fill_frac?: number;
    pot_m3?: number;
}
/** Something that this device entered and that can be crossed out. */
export interface Act {
    id: string;
    kind: Kind;
    word: string; // "Missed"
    at_text: string; // "11:42:07"
    is_crossed: boolean;
    seq: number;
    run: string;
    of?: string; // fix: the entry it corrects
}
export interface Net {
    net: number;
    mass_kg: Quantity;
    limit_kg: number | null;
    change: boolean;
    over: boolean;
    weighed: boolean;
    n_fish: number;
    text: string;
}
export interface Bank {
    session: SessionOf | null;
    is_open: boolean;
    now_text: string;
    fed: (Span & { what: string }) | null;
    bite: Span | null;
    wait: (Span & { pm_s: number; start: 'lower' | 'lift' | 'feed' }) | null;
    spot: string | null;
    hook_bait: string | null;
    net: number | null;
    counts: Record<OutcomeWord, number>;
    last_feed: LastFeed | null;
    undo: Act[];
    nets: Net[];
    net_words: string;
    box: { bait: string; text: string }[];
    pace: { text: string } | null;
    same_fish: { a: string; b: string; text: string }[];
    notes: Note[];
}

/** One row of the log. */
export interface Row {
    id: string;
    kind: Kind;
    word: string;
    detail: string;
    note: string;
    at: string;
    at_text: string;
    pm_s: number;
    rec: string;
    is_late: boolean;
    dev: string;
    is_crossed: boolean;
    n_fixes: number;
    is_clash: boolean;
    seq: number;
    body: RecordEvent['body'];
}
export interface Log {
    rows: Row[];
    n: number;
    clashes: number;
    idle: number;
}
