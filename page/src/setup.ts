// What carries over from session to session on this device: what FEED puts in, which fish the strip offers, units.
import type { Recorder } from './record/record';

/** What the angler is after. */
export interface Aim {
    objective: 'weight' | 'number' | 'target' | 'species';
    target_kg?: number; // not given: the session's
}
export interface Setup {
    bait: string; // a catalogue word
    pot: string; // a catalogue word
    pot_m3?: number; // its struck volume, as the core says it
    species: string[]; // in the order of the strip
    unit: 'lb' | 'kg'; // of the weigh pad
    aim: Aim;
}

export const START: Setup = {
    bait: 'hard-4',
    pot: 'medium',
    species: ['F1', 'carp', 'skimmer', 'other'],
    unit: 'lb',
    aim: { objective: 'weight' },
};

const KEY = 'setup';

/** What was set up last; the start values while the store does not open. */
export async function loadSetup(recorder: Recorder): Promise<Setup> {
    try {
        return { ...START, ...(await recorder.store.meta<Partial<Setup>>(KEY)) };
    } catch {
        return START; // the bar "NOT SAVED" tells why
    }
}

export const saveSetup = (recorder: Recorder, setup: Setup): Promise<void> => recorder.store.setMeta(KEY, setup);
