// Tells rain from hands by what a person cannot do, and what to take back when it was rain. Pure: times come in, verdicts
// go out.
import type { RecordEvent } from '../record/line';

/** What a contact hit. `dead`: nothing that can be pressed, too short to be a finger, or a second contact. */
export type Hit = 'outcome' | 'undo' | 'dead' | 'other';

/** What is judged together; contacts closer together than this belong to one burst. */
const WINDOW_MS = 10_000;

/** One drop of the rig has one outcome and takes longer than this: three outcomes in ten seconds are not a person's, nor
 * three touches of nothing, nor two and two. An undo between makes outcomes a correction. */
export class Rain {
    private contacts: { at: number; hit: Hit }[] = [];

    /** True when the contacts so far are rain's. */
    note(at: number, hit: Hit): boolean {
        this.contacts.push({ at, hit });
        const recent = this.contacts.filter((contact) => contact.at > at - WINDOW_MS);
        const undo = recent.map((contact) => contact.hit).lastIndexOf('undo');
        const outcomes = recent.filter((contact, i) => contact.hit === 'outcome' && i > undo).length;
        const dead = recent.filter((contact) => contact.hit === 'dead').length;
        return outcomes >= 3 || dead >= 3 || (outcomes >= 2 && dead >= 2);
    }

    /** When the burst that ends now began; nothing is remembered after. */
    burstStart(): number {
        let start = this.contacts.at(-1)?.at ?? Infinity;
        for (const { at } of this.contacts.slice().reverse()) {
            if (start - at > WINDOW_MS) break;
            start = at;
        }
        this.contacts = [];
        return start;
    }
}

export interface Reversal {
    cross: string[];
    restore: string[];
}

/** What puts everything back as it was before these events: entries are crossed out, crossings undone. */
export function reversal(burst: readonly RecordEvent[]): Reversal {
    const entered = new Set(burst.filter(({ kind }) => kind !== 'cross' && kind !== 'restore').map(({ id }) => id));
    const wasCrossed = new Map<string, boolean>(); // before the burst
    const isCrossed = new Map<string, boolean>(); // now
    for (const { id, kind, of = '' } of burst) {
        if (kind === 'cross' || kind === 'restore') {
            if (!wasCrossed.has(of)) wasCrossed.set(of, entered.has(of) || kind === 'restore');
            isCrossed.set(of, kind === 'cross');
        } else if (kind !== 'clock' && !(kind === 'fix' && entered.has(of))) {
            wasCrossed.set(id, true); // as if it had never been
            if (!isCrossed.has(id)) isCrossed.set(id, false);
        }
    }
    const changed = [...isCrossed].filter(([id, is]) => wasCrossed.get(id) !== is);
    return {
        cross: changed.filter(([, is]) => !is).map(([id]) => id),
        restore: changed.filter(([, is]) => is).map(([id]) => id),
    };
}
