// What can be typed of an entry: a row a field, in the order of the sheet. Values are text here; the core reads them, knows
// their ranges and says what is wrong with them (Recorder.read).
import type { Body, Kind } from '../record/line';
import { clockOf } from '../record/line';
import { unitFor, type Unit } from '../settings/units';

export type Values = Record<string, string>;

interface Named {
    name: string; // on the sheet
    key: string; // in Values
}
export type Field = Named &
    (
        | { as: 'name'; offer?: 'species' } // a name: a spot, a bait, a fish
        | { as: 'choice'; choices: readonly (readonly [word: string, said: string])[]; isNeeded?: boolean }
        | { as: 'whole' }
        | { as: 'amount'; unit: string; hint?: string } // taken when none is typed; a weight's must be typed
        | { as: 'clock' } // an instant of the session's day
        | { as: 'note' }
    );

export const OUTCOME_CHOICES = [
    ['landed', 'Fish'],
    ['missed', 'Missed'],
    ['lost', 'Lost'],
    ['foul', 'Foul'],
    ['nothing', 'Nothing'],
] as const;
const SIZES = [
    ['under_half_lb', 'under \u00bd lb'],
    ['one_lb', '1 lb'],
    ['two_lb', '2 lb'],
    ['four_lb', '4 lb and more'],
] as const;
const HELD = [
    ['lip_top_middle', 'top lip middle'],
    ['lip_top_side', 'top lip side'],
    ['lip_bottom', 'bottom lip'],
    ['corner', 'corner'],
    ['outside', 'outside'],
    ['body', 'body'],
] as const;
const HOWS = [
    ['clump', 'tipped'],
    ['sprinkle', 'sprinkled'],
    ['throw', 'catapult'],
    ['hand', 'by hand'],
] as const;
const BOTTOMS = [
    ['clay', 'clay'],
    ['silt', 'silt'],
    ['gravel', 'gravel'],
    ['weed', 'weed'],
] as const;
const EYES = [
    ['less', 'less'],
    ['right', 'about right'],
    ['more', 'more'],
] as const;

/** No number is a weight of itself: 12 may be lb or kg. */
const WEIGHT = 'lb or kg';

/** An amount of bait: one number, and what it counts. In Values it is `amount` and `amount_in`, in a body one of these. */
const AMOUNTS = {
    pots: { key: 'fill_frac', unit: '', said: 'pots' },
    pieces: { key: 'count', unit: '', said: 'pieces' },
    ml: { key: 'volume_m3', unit: 'ml', said: 'ml' },
    g: { key: 'mass_kg', unit: 'g', said: 'g' },
} as const;
type AmountIn = keyof typeof AMOUNTS;
const amountChoices = (...which: AmountIn[]) => which.map((one) => [one, AMOUNTS[one].said] as const);

const SPOT: Field = { key: 'spot', name: 'Spot', as: 'name' };
const HOOK_BAIT: Field = { key: 'hook_bait', name: 'Hook bait', as: 'name' };
const BAIT: Field = { key: 'bait', name: 'Bait', as: 'name' };
const NOTE: Field = { key: 'note', name: 'Note', as: 'note' };
const counts: Field[] = [
    ['landed', 'Fish'],
    ['missed', 'Missed'],
    ['lost', 'Lost'],
    ['touch', 'Touch'],
    ['foul', 'Foul'],
    ['nothing', 'Nothing'],
].map(([key = '', name = '']) => ({ key, name, as: 'whole' }));

const FIELDS: Partial<Record<Kind, readonly Field[]>> = {
    open: [
        { key: 'venue', name: 'Water', as: 'name' },
        { key: 'peg', name: 'Peg', as: 'name' },
        HOOK_BAIT,
        { key: 'hours', name: 'Hours to fish', as: 'amount', unit: '' },
        { key: 'nets', name: 'Nets', as: 'whole' },
        { key: 'net_limit_kg', name: 'Limit of a net', as: 'amount', unit: WEIGHT, hint: '50 lb' },
        { key: 'target_kg', name: 'Weight aimed at', as: 'amount', unit: WEIGHT, hint: '80 lb' },
    ],
    plumb: [
        { key: 'depth_m', name: 'Depth', as: 'amount', unit: 'm', hint: '161 cm or 5ft 3in' },
        SPOT,
        { key: 'distance_m', name: 'Out from the bank', as: 'amount', unit: 'm', hint: '11 m' },
        { key: 'side_m', name: 'To the right', as: 'amount', unit: 'm', hint: '0.5 m; \u22120.5 m is to the left' },
        { key: 'bottom', name: 'Bottom', as: 'choice', choices: BOTTOMS },
    ],
    water: [
        { key: 'temp_c', name: 'Water', as: 'amount', unit: 'C', hint: '7.5 C' },
        { key: 'wind_m_s', name: 'Wind', as: 'amount', unit: 'm/s', hint: '8 mph or 3 m/s' },
    ],
    box: [
        BAIT,
        { key: 'amount', name: 'Amount', as: 'amount', unit: '' },
        { key: 'amount_in', name: 'Counted in', as: 'choice', choices: amountChoices('pieces', 'ml', 'g'), isNeeded: true },
    ],
    feed: [
        BAIT,
        { key: 'amount', name: 'Amount', as: 'amount', unit: '' },
        { key: 'amount_in', name: 'Counted in', as: 'choice', choices: amountChoices('pots', 'pieces', 'ml'), isNeeded: true },
        { key: 'how', name: 'How', as: 'choice', choices: HOWS },
        SPOT,
    ],
    lower: [SPOT, HOOK_BAIT],
    touch: [{ key: 'n', name: 'Touches', as: 'whole' }, SPOT],
    lift: [
        { key: 'outcome', name: 'What came of it', as: 'choice', choices: OUTCOME_CHOICES, isNeeded: true },
        { key: 'species', name: 'Which fish', as: 'name', offer: 'species' },
        { key: 'size', name: 'How big, at a guess', as: 'choice', choices: SIZES },
        { key: 'guess_kg', name: 'Weight, guessed', as: 'amount', unit: WEIGHT, hint: '1lb 4oz' },
        { key: 'mass_kg', name: 'Weight by scales', as: 'amount', unit: WEIGHT, hint: '4lb 6oz or 1.98 kg' },
        { key: 'held', name: 'Hook held in', as: 'choice', choices: HELD },
        SPOT,
        HOOK_BAIT,
    ],
    net: [
        { key: 'net', name: 'Net', as: 'whole' },
        { key: 'mass_kg', name: 'Weight by scales', as: 'amount', unit: WEIGHT, hint: '38lb 4oz or 17.3 kg' },
    ],
    tally: [
        { key: 'from', name: 'From', as: 'clock' },
        { key: 'to', name: 'To', as: 'clock' },
        ...counts,
        SPOT,
    ],
    look: [{ key: 'eye', name: 'Feed left, by eye', as: 'choice', choices: EYES, isNeeded: true }, SPOT],
};

export const fieldsOf = (kind: Kind): readonly Field[] => [...(FIELDS[kind] ?? []), NOTE];

const OZ_IN_KG = 16 / 0.45359237;

/** A weight as it is typed: "4lb 6oz", to a quarter ounce; large ones too. */
function weightText(kg: number): string {
    const quarters = Math.round(kg * OZ_IN_KG * 4);
    const [lb, oz] = [Math.floor(quarters / 64), (quarters % 64) / 4];
    return oz ? `${lb}lb ${oz}oz` : `${lb} lb`;
}

const short = (value: number) => String(Number(value.toPrecision(6)));

/** A number of SI in the unit that is typed behind it: of feet and inches in feet. */
const typedNumber = ({ per, zero = 0, isFeet }: Unit, value: number) => value / (isFeet ? per * 12 : per) + zero;

/** A value of a body as the sheet shows it, to be typed over. */
function shown(field: Field, value: string | number): string {
    if (typeof value === 'string') return field.as === 'clock' ? clockOf(value) : value;
    if (field.as !== 'amount') return String(value);
    if (field.unit === WEIGHT) return weightText(value);
    const own = unitFor(field.key, field.unit);
    return own ? `${short(typedNumber(own, value))} ${own.word}` : `${short(value)} ${field.unit}`.trim();
}

/** What the sheet starts with. */
export function valuesOf(kind: Kind, body: Body): Values {
    const values: Values = {};
    for (const field of fieldsOf(kind)) {
        const value = body[field.key as keyof Body];
        if (value !== undefined && !(field.key === 'mass_kg' && kind === 'box')) values[field.key] = shown(field, value);
        if (field.key !== 'amount') continue;
        for (const [word, { key, unit }] of Object.entries(AMOUNTS)) {
            const amount = body[key];
            if (typeof amount !== 'number') continue;
            values['amount'] = short(unit === 'ml' ? amount * 1e6 : unit === 'g' ? amount * 1e3 : amount);
            values['amount_in'] = word;
        }
        const first = fieldsOf(kind).find(({ key }) => key === 'amount_in');
        if (first?.as === 'choice') values['amount_in'] ??= first.choices[0]?.[0] ?? '';
    }
    return values;
}

/** "4,5" is 4.5; "4-6" of a weight 4lb 6oz; a minus sign is a hyphen; a bare number has the field's unit, if it has one. */
function typed(text: string, unit: string): string {
    const plain = text.trim().replace('\u2212', '-').replace(/^(-?\d+),(\d)/, '$1.$2');
    if (unit === WEIGHT) return plain.replace(/^(\d+)\s*-\s*(\d+(?:\.\d+)?)$/, '$1lb $2oz');
    return /^-?[\d.]+$/.test(plain) ? `${plain} ${unit}`.trim() : plain;
}

/** A body member as the core reads it: numbers without a unit as numbers, amounts as text with theirs. */
function member(field: Field, text: string): string | number {
    const plain = text.trim();
    if (field.as === 'whole') return /^\d+$/.test(plain) ? Number(plain) : plain;
    if (field.as !== 'amount') return plain;
    const full = typed(plain, unitFor(field.key, field.unit)?.word ?? field.unit);
    return field.unit === '' && /^-?\d+(\.\d+)?$/.test(full) ? Number(full) : full;
}

/** The body that the sheet's values come to: of all that are given, or only of those that differ from `start`. Clocks are
 * left to the caller. */
export function bodyOf(kind: Kind, values: Values, start: Values = {}): Body {
    const body: Record<string, string | number> = {};
    const isChanged = (key: string) => (values[key] ?? '').trim() !== (start[key] ?? '').trim();
    for (const field of fieldsOf(kind)) {
        const text = values[field.key] ?? '';
        if (field.as === 'clock' || field.key === 'amount' || field.key === 'amount_in') continue;
        if (text.trim() && isChanged(field.key)) body[field.key] = member(field, text);
    }
    const amount = (values['amount'] ?? '').trim();
    if (amount && (isChanged('amount') || isChanged('amount_in'))) {
        const { key, unit } = AMOUNTS[(values['amount_in'] ?? 'pieces') as AmountIn];
        const full = typed(amount, unit);
        body[key] = unit === '' && /^\d+(\.\d+)?$/.test(full) ? Number(full) : full;
    }
    return body as Body;
}

/** The core's sentence with the sheet's names: "body.mass_kg is ..." is "Weight by scales is ...". */
export function faultWords(kind: Kind, sentence: string): string {
    const amount = Object.values(AMOUNTS).map(({ key }) => key) as string[];
    return sentence.replace(/body\.([a-z0-9_]+)/, (all, key: string) => {
        const own = fieldsOf(kind).find((field) => field.key === key);
        if (own && !(kind === 'box' && key === 'mass_kg')) return own.name;
        return amount.includes(key) ? 'Amount' : all;
    });
}
