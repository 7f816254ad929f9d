// The strip of choices that stands in the advice line's place for a few seconds after FEED, Fish and Foul. Leaving it
// alone is an answer too: as before, not told. What is pressed becomes a fix of the entry.
import type { Body, RecordEvent } from '../record/line';
import type { Setup } from '../setup';
import { timesFeed } from './acts';

/** How long a strip stands. */
export const STRIP_MS = 8000;

export interface Choice {
    word: string; // on the button
    name: string; // spoken
    fix?: Body;
    opensPad?: boolean;
    next?: Strip; // what to ask then
}
export interface Strip {
    of: RecordEvent;
    label: string;
    choices: Choice[];
}

const SIZES = [
    ['<\u00bd', 'under half a pound', 'under_half_lb'],
    ['1 lb', 'about 1 lb', 'one_lb'],
    ['2', 'about 2 lb', 'two_lb'],
    ['4+', '4 lb and more', 'four_lb'],
] as const;

function sizeStrip(of: RecordEvent): Strip {
    const sizes = SIZES.map(([word, name, size]) => ({ word, name, fix: { size } }));
    return { of, label: 'How big', choices: [...sizes, { word: 'weigh', name: 'weigh', opensPad: true }] };
}

function fishStrip(of: RecordEvent, setup: Setup): Strip {
    const next = sizeStrip(of);
    const choices = setup.species.map((species) => ({
        word: species === 'skimmer' ? 'skim' : species,
        name: species,
        fix: { species },
        next,
    }));
    return { of, label: 'Which fish', choices };
}

function foulStrip(of: RecordEvent): Strip {
    return {
        of,
        label: 'Hooked where',
        choices: [
            { word: 'outside', name: 'outside of the mouth', fix: { held: 'outside' } },
            { word: 'body', name: 'body', fix: { held: 'body' } },
        ],
    };
}

const WAYS = [
    ['pot', 'from the pot', 'clump'],
    ['hand', 'by hand', 'hand'],
    ['catapult', 'by catapult', 'throw'],
] as const;

function feedStrip(of: RecordEvent): Strip {
    const own = of.body['how'] === 'sprinkle' ? 'clump' : of.body['how'];
    const ways = WAYS.filter(([, , how]) => how !== own).map(([word, name, how]) => ({ word, name, fix: { how } }));
    return {
        of,
        label: 'How much, how',
        choices: [
            { word: 'half', name: 'half as much', fix: timesFeed(of.body, 0.5) },
            { word: '\u00d72', name: 'twice as much', fix: timesFeed(of.body, 2) },
            ...ways,
        ],
    };
}

/** The strip after an entry; undefined: there is nothing to ask. */
export function stripAfter(of: RecordEvent, setup: Setup): Strip | undefined {
    if (of.kind === 'feed') return feedStrip(of);
    if (of.body['outcome'] === 'landed') return fishStrip(of, setup);
    if (of.body['outcome'] === 'foul') return foulStrip(of);
    return undefined;
}
