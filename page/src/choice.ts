// What can be chosen on the quick screen, what was, remembered for next time on this device, and what it asks the core.
import { kitMember, type Kit } from './kit/kit';
import { ask, type CatalogueEntry, type FormField } from './questions';

export interface Choice {
    bait: string;
    pot: string;
    depthCm: number;
    tempHalfC: number; // in half degrees, so that steps stay exact
    isTempKnown: boolean;
}

const DEPTH_STEP_CM = 5;

/** What the steppers may offer, as the core says it. */
export interface Offer {
    baits: CatalogueEntry[];
    pots: CatalogueEntry[];
    depth: FormField;
    temp: FormField;
}

export async function askOffer(): Promise<Offer> {
    const { baits, pots } = await ask<Pick<Offer, 'baits' | 'pots'>>('pot', 'catalogue', {});
    const { sections } = await ask<{ sections: Record<string, FormField[]> }>('pot', 'form', {});
    const field = (section: string, name: string) => {
        const found = sections[section]?.find((one) => one.name === name);
        if (!found) throw new Error(`The core knows no ${section}.${name}.`);
        return found;
    };
    return {
        baits,
        pots,
        depth: field('spot', 'depth_m'),
        temp: field('water', 'temp_c'),
    };
}

const KEY = 'baitfall.quick';
const START: Choice = { bait: 'hard-4', pot: 'medium', depthCm: 150, tempHalfC: 24, isTempKnown: true };

function clamp(value: number, least: number, most: number): number {
    return Math.min(Math.max(value, least), most);
}

/** The deepest and shallowest, coldest and warmest that the steppers reach, all whole steps. */
export function limits(offer: Offer) {
    return {
        leastCm: Math.ceil((offer.depth.least * 100) / DEPTH_STEP_CM) * DEPTH_STEP_CM,
        mostCm: Math.floor((offer.depth.most * 100) / DEPTH_STEP_CM) * DEPTH_STEP_CM,
        leastHalfC: Math.ceil(offer.temp.least * 2),
        mostHalfC: Math.floor(offer.temp.most * 2),
    };
}

/** What was kept last; the start value stands in for anything that is missing, of another kind or not on offer. */
export function rememberedChoice(offer: Offer): Choice {
    let kept: Partial<Record<keyof Choice, unknown>> = {};
    try {
        kept = Object(JSON.parse(localStorage.getItem(KEY) ?? '{}'));
    } catch (fault) {
        if (!(fault instanceof SyntaxError)) throw fault;
    }
    const { leastCm, mostCm, leastHalfC, mostHalfC } = limits(offer);
    const whole = (value: unknown, start: number, least: number, most: number) =>
        typeof value === 'number' && Number.isInteger(value) ? clamp(value, least, most) : start;
    return {
        bait: offer.baits.find((bait) => bait.word === kept.bait)?.word ?? START.bait,
        pot: offer.pots.find((pot) => pot.word === kept.pot)?.word ?? START.pot,
        depthCm: whole(kept.depthCm, START.depthCm, leastCm, mostCm),
        tempHalfC: whole(kept.tempHalfC, START.tempHalfC, leastHalfC, mostHalfC),
        isTempKnown: kept.isTempKnown !== false,
    };
}

export type Step = 1 | -1;
export type Question = 'bait' | 'pot' | 'depth' | 'temp';

/** The word after or before this one in a list that goes round. */
export function around(list: readonly CatalogueEntry[], word: string, by: Step): string {
    const at = list.findIndex((entry) => entry.word === word);
    return (list[(at + by + list.length) % list.length] as CatalogueEntry).word;
}

/** The choice after one step of one question. A first step from "don't know" brings back what was known before. */
export function stepped(choice: Choice, question: Question, by: Step, offer: Offer): Choice {
    const { leastCm, mostCm, leastHalfC, mostHalfC } = limits(offer);
    switch (question) {
        case 'bait':
            return { ...choice, bait: around(offer.baits, choice.bait, by) };
        case 'pot':
            return { ...choice, pot: around(offer.pots, choice.pot, by) };
        case 'depth':
            return { ...choice, depthCm: clamp(choice.depthCm + by * DEPTH_STEP_CM, leastCm, mostCm) };
        case 'temp':
            if (!choice.isTempKnown) return { ...choice, isTempKnown: true };
            return { ...choice, tempHalfC: clamp(choice.tempHalfC + by, leastHalfC, mostHalfC) };
    }
}

export function rememberChoice(choice: Choice): void {
    localStorage.setItem(KEY, JSON.stringify(choice));
}

/** The request for the core, in SI. */
export function requestOf(choice: Choice, kit: Kit): object {
    return {
        ...kitMember(kit),
        bait: choice.bait,
        pot: choice.pot,
        water: {
            depth_m: choice.depthCm / 100,
            temp_c: choice.isTempKnown ? choice.tempHalfC / 2 : "don't know",
        },
    };
}

const INCHES_IN_CM = 1 / 2.54;

/** "4 ft 11 in", to the nearest inch, on one line. */
export function feetAndInches(cm: number): string {
    const inches = Math.round(cm * INCHES_IN_CM);
    return `${Math.floor(inches / 12)} ft ${inches % 12} in`.replaceAll(' ', '\u00a0');
}
