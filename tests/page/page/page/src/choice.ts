// What was chosen on the quick screen, remembered for next time on this device.
export const POTS = ['small', 'medium', 'large'] as const;

export interface Choice {
    bait: string;
    pot: (typeof POTS)[number];
    depthCm: number;
    tempHalfC: number; // in half degrees, so that steps stay exact
    isTempKnown: boolean;
}

export const DEPTH_STEP_CM = 5;

const KEY = 'baitfall.quick';
const START: Choice = { bait: 'hard-4', pot: 'medium', depthCm: 150, tempHalfC: 24, isTempKnown: true };

/** What was kept last, with the start value for anything that is missing or of another kind. */
export function rememberedChoice(): Choice {
    let kept: Partial<Record<keyof Choice, unknown>> = {};
    try {
        kept = Object(JSON.parse(localStorage.getItem(KEY) ?? '{}'));
    } catch (fault) {
        if (!(fault instanceof SyntaxError)) throw fault;
    }
    const same = <K extends keyof Choice>(key: K) =>
        (typeof kept[key] === typeof START[key] ? kept[key] : START[key]) as Choice[K];
    const pot = POTS.find((word) => word === kept.pot) ?? START.pot;
    return {
        bait: same('bait'),
        pot,
        depthCm: same('depthCm'),
        tempHalfC: same('tempHalfC'),
        isTempKnown: same('isTempKnown'),
    };
}

export function rememberChoice(choice: Choice): void {
    localStorage.setItem(KEY, JSON.stringify(choice));
}

/** The request for the core, in SI. */
export function requestOf(choice: Choice): object {
    return {
        bait: choice.bait,
        pot: choice.pot,
        water: {
            depth_m: choice.depthCm / 100,
            temp_c: choice.isTempKnown ? choice.tempHalfC / 2 : "don't know",
        },
    };
}

const INCHES_IN_CM = 1 / 2.54;

/** "4 ft 11 in", to the nearest inch. */
export function feetAndInches(cm: number): string {
    const inches = Math.round(cm * INCHES_IN_CM);
    return `${Math.floor(inches / 12)} ft ${inches % 12} in`;
}
