// What a session takes with it from its plan: what FEED puts in first, and how long to wait after it.
import { useEffect, useState } from 'preact/hooks';
import type { Body } from '../record/line';
import { useRecorder } from '../record/hooks';
import type { Recorder } from '../record/record';
import type { Setup } from '../setup';

export interface Carried {
    session: string; // the one that it is for
    feed: Body;
    pot: string; // its word in the catalogue; '': one of the kit, whose name may be too long for a button
    wait_s: number | null; // from the put-in to the start of lowering; null: no answer
}

const KEY = 'carried';

let newest: Carried | undefined; // that this window knows of

/** Read before the first screen is drawn: FEED must not offer anything else in the meantime. */
export async function loadCarried(recorder: Recorder): Promise<void> {
    try {
        newest = await recorder.store.meta<Carried>(KEY);
    } catch {
        // the bar "NOT SAVED" tells why
    }
}

export function carry(recorder: Recorder, carried: Carried): Promise<void> {
    newest = carried;
    return recorder.store.setMeta(KEY, carried);
}

/** What the open session was started with; undefined: without a plan. */
export function useCarried(): Carried | undefined {
    const recorder = useRecorder();
    const [carried, setCarried] = useState(newest);
    useEffect(() => {
        void loadCarried(recorder).then(() => setCarried(newest)); // another window may have opened the session
    }, [recorder, recorder.live]);
    return carried?.session === recorder.live ? carried : undefined;
}

/** A session with a plan counts bait by the plan's pot. */
export function withPot(setup: Setup, carried: Carried | undefined): Setup {
    if (!carried) return setup;
    const { pot_m3 } = carried.feed;
    return { ...setup, pot: carried.pot, ...(typeof pot_m3 === 'number' && { pot_m3 }) };
}
