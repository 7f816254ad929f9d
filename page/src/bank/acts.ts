// What the Bank enters. Each is one event; what a strip adds afterwards is a fix of it.
import type { Act, Bank, LastFeed, OutcomeWord } from '../record/answers';
import type { Body, RecordEvent } from '../record/line';
import type { Entry, Recorder } from '../record/record';
import type { Setup } from '../setup';

const OUTCOME_OF = {
    fish: 'landed',
    missed: 'missed',
    lost: 'lost',
    foul: 'foul',
    nothing: 'nothing',
} as const satisfies Partial<Record<OutcomeWord, string>>;

export function logOutcome(recorder: Recorder, name: OutcomeWord): Entry {
    return name === 'touch' ? recorder.log('touch') : recorder.log('lift', { outcome: OUTCOME_OF[name] });
}

/** The outcome that an event counts as; undefined: it is none. */
export function outcomeIn(kind: string, body: Body): OutcomeWord | undefined {
    if (kind === 'touch') return 'touch';
    const words = Object.entries(OUTCOME_OF) as [OutcomeWord, string][];
    return kind === 'lift' ? words.find(([, outcome]) => outcome === body['outcome'])?.[0] : undefined;
}

/** What FEED puts in: the same as last time; at the start what was planned, or else set up. */
export function preset(last: LastFeed | null | undefined, setup: Setup, planned?: Body): Body {
    const { pot_m3: own } = setup;
    if (!last && planned) return planned;
    if (!last) return { bait: setup.bait, fill_frac: 1, ...(own !== undefined && { pot_m3: own }), how: 'clump' };
    const { bait, how, count, volume_m3, fill_frac, pot_m3 } = last;
    const amount =
        count !== undefined ? { count } : volume_m3 !== undefined ? { volume_m3 } : { fill_frac: fill_frac ?? 1 };
    return { bait, ...amount, ...(pot_m3 !== undefined && { pot_m3 }), ...(how && { how }) };
}

const PARTS: Record<number, string> = { 0.25: '\u00bc pot', 0.5: 'half pot', 0.75: '\u00be pot', 1.5: '1\u00bd pots', 2: 'two pots' };

/** The put-in in two words: "medium pot", "half pot", "by hand", "22 pieces". */
export function feedWords(body: Body, setup: Setup): string {
    const { how, count, volume_m3, fill_frac, pot_m3 } = body;
    if (how === 'hand') return 'by hand';
    if (how === 'throw') return 'catapult';
    if (count !== undefined) return `${count} pieces`;
    if (volume_m3 !== undefined) return `${Math.round(Number(volume_m3) * 1e6)} ml`;
    const fill = Number(fill_frac ?? 1);
    if (fill !== 1) return PARTS[fill] ?? `${fill.toPrecision(2)} pots`;
    return pot_m3 === setup.pot_m3 && setup.pot ? `${setup.pot} pot` : 'full pot';
}

/** The same put-in, larger or smaller; the most that a fill may be is three pots. */
export function timesFeed(body: Body, factor: number): Body {
    if (body['count'] !== undefined) return { count: Math.max(1, Math.round(Number(body['count']) * factor)) };
    if (body['volume_m3'] !== undefined) return { volume_m3: Number(body['volume_m3']) * factor };
    return { fill_frac: Math.min(3, Number(body['fill_frac'] ?? 1) * factor) };
}

/** What the undo strip offers: the newest entry still standing, and the crossing-out that can be taken back. */
export interface Undo {
    next: Act | undefined; // to be crossed out
    back: Act | undefined; // to be put back; it was crossed out after everything newer
}

/** An entry, and the advice that it followed when it came of one press: they are crossed out and put back together. */
export function withAdvice(acts: readonly Act[], act: Act): Act[] {
    const advice = acts.find(({ kind, run, seq }) => kind === 'advice' && run === act.run && seq === act.seq - 1);
    return advice && act.kind === 'feed' && advice.at_text === act.at_text ? [act, advice] : [act];
}

/** A strip's fixes belong to the entry that they complete, advice to the put-in that followed it: they are not steps of their
 * own. */
function steps(acts: readonly Act[]): Act[] {
    return acts.filter((act, i) => {
        if (act.kind === 'advice') return !acts.some((one) => one !== act && withAdvice(acts, one).includes(act));
        if (act.kind !== 'fix') return true;
        const before = acts.slice(i + 1).find((older) => older.kind !== 'fix');
        return act.of === undefined ? false : before?.id !== act.of;
    });
}

/** The entry to be crossed out where there are newer ones than the strip knows: the last of them, or what it completes. */
export function stepOf(newer: readonly RecordEvent[], { next }: Undo): string {
    const last = newer[newer.length - 1] as RecordEvent;
    const entry = [...newer].reverse().find(({ kind }) => kind !== 'fix')?.id ?? next?.id;
    return last.of !== undefined && last.of === entry ? entry : last.id;
}

export function undoOf(bank: Bank): Undo {
    const acts = steps(bank.undo);
    const next = acts.findIndex((act) => !act.is_crossed);
    return { next: acts[next], back: acts[(next < 0 ? acts.length : next) - 1] };
}
