// The measurements that an angler can make at home: what is asked of each, how its readings are taken, what it is for. Their
// numbers, ranges and names of fields are the core's (docs/formats.md, "measure").
import { CM, type FormValue } from '../plan/fields';
import type { Values } from '../plan/plan';
import type { Note } from '../questions';
import type { Kit, ListName } from './kit';

/** What a measurement is of: a key of the request, and the list of the kit that has it. */
export const THINGS = {
    bait: { list: 'baits', name: 'Bait' },
    pot: { list: 'pots', name: 'Pot' },
    rig: { list: 'rigs', name: 'Rig' },
} as const satisfies Record<string, { list: ListName; name: string }>;
export type Thing = keyof typeof THINGS;

/** One reading; what was crossed out stays to be seen. Two values: both of a pair. */
export interface Taken {
    values: (number | string)[];
    said: string;
    isOut?: boolean;
}

export interface Measurement {
    what: string;
    name: string; // on its button
    below: string; // what it is for
    of: readonly Thing[];
    make: string; // the first step, as a heading
    take: string; // the second
    how: string; // in a sentence or two
    fields: readonly FormValue[];
    by: 'watch' | 'counter' | 'shot' | 'typed';
    section: string; // of the core's form
    keys: readonly { key: string; name: string; hint?: string }[]; // of the readings
    start: Values;
    weighed?: Values; // what holds when the shot was weighed, and its weight is typed
    effect?: { command: 'fall' | 'pot'; key: string; words: string };
}

const WARMTH = { name: 'Water', unit: '\u00b0C', per: 1, step: 0.5 };

export const MEASUREMENTS: readonly Measurement[] = [
    {
        what: 'drop',
        name: 'Drop test',
        below: 'How fast a bait sinks: a jar, water, ten pieces',
        of: ['bait'],
        make: 'Fill a jar, measure the water',
        take: 'Drop one, press as it lands',
        how: 'Wet the piece. Let it go just under the surface and press; press again when it touches the bottom. Five to twenty pieces.',
        fields: [
            { section: 'drop', key: 'height_m', name: 'Water in the jar', ...CM(0.5) },
            { section: 'drop', key: 'vessel_m', name: 'Jar, inside', start: 0.1, ...CM(0.5) },
            { section: 'drop', key: 'temp_c', ...WARMTH },
        ],
        by: 'watch',
        section: 'drop',
        keys: [{ key: 'time_s', name: 'Time' }],
        start: { height_m: 0.25 },
        effect: { command: 'fall', key: 'time_s', words: 'to the bottom of' },
    },
    {
        what: 'count',
        name: 'Count a pot',
        below: 'How many pieces go in, and how large the pot is',
        of: ['bait', 'pot'],
        make: 'Fill the pot level',
        take: 'Tip it out and count',
        how: 'Fill it as you do on the bank and strike it level. Two or three fillings say more than one.',
        fields: [{ section: 'count', key: 'water_kg', name: 'Water it holds', unit: 'g', per: 0.001, step: 0.5, start: 0.008, none: 'Not weighed' }],
        by: 'counter',
        section: 'count',
        keys: [{ key: 'count', name: 'Pieces' }],
        start: {},
        effect: { command: 'pot', key: 'pieces', words: 'in the pot, level' },
    },
    {
        what: 'float',
        name: 'Float in a tube',
        below: 'The shot that your float really takes',
        of: ['rig'],
        make: 'Hang the float in a tube of water',
        take: 'Add shot until the bristle begins',
        how: 'Press a size for every shot that goes on. When the water stands where the bristle begins, note the try. Two or three tries.',
        fields: [],
        by: 'shot',
        section: 'tube',
        keys: [{ key: 'took_kg', name: 'It took', hint: '0.37 g' }],
        start: {},
        weighed: { mass_frac: 1, mass_pm_frac: 0.02 }, // pocket scales (judgement)
    },
    {
        what: 'soak',
        name: 'Weigh soaked',
        below: 'How much water a bait takes up, and how soon',
        of: ['bait'],
        make: 'Weigh a handful dry',
        take: 'Soak, blot, weigh, again and again',
        how: 'Three weighings or more, the last when it hardly gains any more. Blot well each time.',
        fields: [
            { section: 'weigh', key: 'dry_kg', name: 'Dry', unit: 'g', per: 0.001, step: 1 },
            { section: 'weigh', key: 'temp_c', ...WARMTH },
        ],
        by: 'typed',
        section: 'weigh',
        keys: [
            { key: 'at_s', name: 'Under water for', hint: '5 min' },
            { key: 'wet_kg', name: 'Weighs now', hint: '31 g' },
        ],
        start: { dry_kg: 0.02 },
    },
    {
        what: 'break',
        name: 'Break a hooklength',
        below: 'What your knots and line really hold',
        of: ['rig'],
        make: 'Tie it as you fish it, and wet it',
        take: 'Pull until it breaks',
        how: 'By a spring balance or weights hung, away from your eyes. Three pieces or more.',
        fields: [],
        by: 'typed',
        section: 'break',
        keys: [{ key: 'broke_kg', name: 'Broke at', hint: '950 g' }],
        start: {},
    },
];

/** What is being measured, as it stands; kept until it is done or put away. */
export interface Measuring {
    what: string;
    of: Partial<Record<Thing, string>>;
    values: Values;
    taken: readonly Taken[];
}

/** The answer to "measure". */
export interface MeasureAnswer {
    text: string;
    kept: Record<string, string>;
    kit: Kit;
    notes: Note[];
}

export const measurementOf = (what: string): Measurement | undefined => MEASUREMENTS.find((one) => one.what === what);

/** The request for the core; undefined while nothing was read. */
export function requestOf(measuring: Measuring, kit: object, date: string): object | undefined {
    const { what, of, values, taken } = measuring;
    const how = measurementOf(what);
    const counted = taken.filter(({ isOut }) => !isOut);
    if (!how || counted.length === 0) return undefined;
    const readings = how.keys.map(({ key }, i) => [key, counted.map((one) => one.values[i])] as const);
    return { what, date, ...of, kit, ...values, ...Object.fromEntries(readings) };
}

export interface Change {
    words: string;
    was: string;
    now: string;
}

/** "bait.density (density of one piece as it goes in) was 1230 kg/m3 (1150-1300), now 1135 kg/m3 (1103-1167); ..." taken apart. */
export const changesOf = (text: string): Change[] =>
    text
        .replace(/\.$/, '')
        .split('; ')
        .flatMap((part) => {
            const [, words, was, now] = /^\S+ \((.*)\) was (.+), now (.+)$/.exec(part) ?? [];
            return words && was && now ? [{ words, was, now }] : [];
        });
