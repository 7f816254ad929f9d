// The shape of the answer to "next" (docs/formats.md). It comes from the core; nothing is worked out here.
import type { Note } from '../questions';

export interface Act {
    what: 'feed' | 'wait' | 'move';
    spot: string; // '': none was told
    hook_bait: string;
    hook_short: string; // what a button says for it
    bait: string | null; // null: nothing goes in
    count: number | null;
    how?: string;
    wait_s: number;
    every_s?: number | null; // and from then on so often
    after_bite?: boolean;
    text: string; // "Feed now: 20 hard 4 mm pellets, tipped"
}
export interface Action extends Act {
    short: string; // fifteen letters: "Feed 20 now"
    times: number | null; // its put-in over the last of that way, or the planned one
    at: string;
    look_again_s: number | null;
    look_again: string | null;
}
/** Numbers are null in advice of the book. */
export interface Amounts {
    mid: number | null;
    lo: number | null;
    hi: number | null;
    text: string;
}
export interface NextAnswer {
    session: { id: string };
    at: string;
    spot: string;
    what: string; // what this is, and what it is not
    action: Action | null; // null: no advice; a note says why
    notes: Note[];
    // with an action:
    either?: Action | null; // as good as far as can be told
    kept?: boolean; // it stays what was said, though another was computed a little better
    hour?: Amounts;
    gain?: Amounts;
    p_best?: number | null;
    odds?: { p: number; until?: string | null; text: string } | null; // of a fish landed by then
    grounds?: 'book' | 'own';
    grounds_text?: string;
    reasons?: { text: string; grounds: 'book' | 'today'; events: string[] }[];
    others?: (Act & { behind: Amounts; p_more: number | null })[];
    changes_if?: { text: string }[];
}
