// How long until the rig should go down after a put-in: the plan's wait against the time since. Both come from the core; no
// clock runs here, it is the difference of the two each time the journal is asked.
import type { Carried } from '../peg/carried';
import type { Bank } from '../record/answers';

/** So long it says "now" before it is gone: by then the rig is in, or something else is being done. */
const NOW_S = 60;

export interface Lay {
    words: string; // "Lower in 0:14", "Lower now"
    short: string; // "in 0:14", "now"
    isNow: boolean;
}

const clock = (s: number) => `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;

/** Undefined: nothing was put in for which the plan says a wait, or the rig went in since. */
export function layIn(bank: Bank, carried: Carried | undefined): Lay | undefined {
    const { fed, last_feed: feed } = bank;
    const latest = bank.undo.find(({ kind, is_crossed }) => !is_crossed && /^(feed|lower|lift|touch)$/.test(kind));
    if (carried?.wait_s == null || fed?.s == null || !feed || latest?.kind !== 'feed') return undefined;
    const isSame = feed.bait === carried.feed['bait'] && (feed.how === 'clump' || feed.how === 'sprinkle');
    const left = Math.ceil(carried.wait_s - fed.s);
    if (!isSame || left <= -NOW_S) return undefined;
    const isNow = left <= 0;
    return isNow
        ? { isNow, words: 'Lower now', short: 'now' }
        : { isNow, words: `Lower in ${clock(left)}`, short: `in ${clock(left)}` };
}
