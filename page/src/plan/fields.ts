// The values that a plan's screen steps, as they are shown: which unit, how far a step goes. What is accepted and what stands
// when nothing is said comes from the core's own tables.
import { feetAndInches } from '../choice';
import type { FormField } from '../questions';
import type { TermName } from '../terms';
import { UNKNOWN, type Place, type Values } from './plan';

interface Shown {
    unit: string;
    per: number; // SI in one of the unit
    zero?: number; // what stands for 0 of SI
    isFeet?: boolean; // inches, shown as feet and inches
    step: number; // in the unit
}
export const METRES = (step: number): Shown => ({ unit: 'm', per: 1, step });
export const CM = (step: number): Shown => ({ unit: 'cm', per: 0.01, step });

/** A value of one of the core's tables, as the page shows it. */
export interface FormValue extends Shown {
    section: string; // of the core's form
    key: string;
    name: string;
    term?: TermName;
    start?: number; // in SI, where the core's table has none
    none?: string; // what stands there when nothing is said and nothing taken for it
    isPm?: boolean; // the give or take of the key is meant, not its value
    hasOwnPm?: boolean; // its give or take has a field of its own
}
export interface PlanField extends FormValue {
    place: Place;
}

export const DEPTH: PlanField = { section: 'spot', key: 'depth_m', place: 'spot', name: 'Depth', term: 'depth', start: 1.5, hasOwnPm: true, ...METRES(0.02) };
export const DISTANCE: PlanField = { section: 'spot', key: 'distance_m', place: 'spot', name: 'Out', ...METRES(0.5) };
export const TEMPERATURE: PlanField = {
    section: 'water', key: 'temp_c', place: 'water', name: 'Water', unit: '\u00b0C', per: 1, step: 0.5,
};
export const WIND: PlanField = { section: 'water', key: 'wind_m_s', place: 'water', name: 'Wind', unit: 'm/s', per: 1, step: 0.1 };
export const WIND_SIDE: PlanField = {
    section: 'water', key: 'wind_side_deg', place: 'water', name: 'Wind from', unit: '\u00b0', per: 1, step: 1,
};
export const DRIFT: PlanField = {
    section: 'water', key: 'surface_drift_m_s', place: 'water', name: 'Drift', term: 'drift', unit: 'cm/s', per: 0.01, step: 1,
};

/** Those of the full plan, in the order in which an angler thinks. */
export const SPOT_FIELDS: readonly PlanField[] = [
    { section: 'spot', key: 'depth_m', place: 'spot', name: 'Depth, give or take', term: 'give or take', isPm: true, ...CM(1) },
    { section: 'spot', key: 'side_m', place: 'spot', name: 'To the right', ...METRES(0.5) },
    { section: 'spot', key: 'slope_deg', place: 'spot', name: 'Slope', term: 'slope', unit: '\u00b0', per: 1, step: 1 },
];
export const WATER_FIELDS: readonly PlanField[] = [
    TEMPERATURE,
    { section: 'water', key: 'fetch_m', place: 'water', name: 'Open water', term: 'fetch', ...METRES(10) },
];
export const TIP_LINE: PlanField = {
    section: 'rig', key: 'tip_to_float_m', place: 'rig', name: 'Tip line', term: 'tip line', ...CM(5),
};
export const OVERDEPTH: PlanField = {
    section: 'spot_use', key: 'overdepth_m', place: 'spot', name: 'Overdepth', term: 'overdepth', ...CM(1),
};
export const AIM_FIELDS: readonly PlanField[] = [
    { section: 'aim', key: 'marker_m', place: 'aim', name: 'Marker', term: 'marker', start: 40, none: 'None', ...METRES(5) },
    { section: 'aim', key: 'marker_moves_m', place: 'aim', name: 'Marker moves', term: 'marker', isPm: true, ...CM(5) },
    { section: 'aim', key: 'bearing_deg', place: 'aim', name: 'Pole off the marker', term: 'give or take', isPm: true, unit: '\u00b0', per: 1, step: 0.1 },
    { section: 'aim', key: 'pot_comp_m', place: 'aim', name: 'Lean', term: 'lean', ...CM(0.5) },
    { section: 'aim', key: 'ship_m', place: 'aim', name: 'Pole off its mark', term: 'butt mark', isPm: true, ...CM(1) },
    { section: 'aim', key: 'steady_m', place: 'aim', name: 'Held to within', term: 'give or take', isPm: true, ...CM(1) },
];
export const FEED_FIELDS: readonly PlanField[] = [
    { section: 'feed', key: 'every_s', place: 'feed', name: 'Again after', start: 720, none: 'Once', unit: 'min', per: 60, step: 1 },
];
export const SESSION_FIELDS: readonly PlanField[] = [
    { section: 'session', key: 'hours', place: 'session', name: 'Hours', unit: 'h', per: 1, step: 0.5 },
];
export const POLE: PlanField = { section: 'plan', key: 'pole_m', place: 'root', name: 'Pole', term: 'pole', start: 11.5, ...METRES(0.5) };
export const UNKNOWN_FIELDS: readonly PlanField[] = [
    { section: 'unknown_peg', key: 'depth_least_m', place: 'unknown_peg', name: 'Shallowest', start: 0.9, ...METRES(0.1) },
    { section: 'unknown_peg', key: 'depth_most_m', place: 'unknown_peg', name: 'Deepest', start: 2, ...METRES(0.1) },
    { section: 'unknown_peg', key: 'distance_m', place: 'unknown_peg', name: 'Out', start: 11, ...METRES(0.5) },
    { section: 'unknown_peg', key: 'wind_least_m_s', place: 'unknown_peg', name: 'Lightest wind', start: 0, unit: 'm/s', per: 1, step: 1 },
    { section: 'unknown_peg', key: 'wind_most_m_s', place: 'unknown_peg', name: 'Strongest wind', start: 5, unit: 'm/s', per: 1, step: 1 },
];

/** What the core's table says of it; undefined: it has no such field. */
export function formField(form: Record<string, FormField[]>, { section, key, isPm }: FormValue): FormField | undefined {
    const own = form[section]?.find(({ name }) => name === key);
    if (!own || !isPm) return own;
    const { pm_name = '', most, start_pm = null } = own;
    return { name: pm_name, kind: 'number', least: 0, most, start: start_pm };
}

const startOf = ({ start }: FormField) => (typeof start === 'number' ? start : undefined);

/** What stands there now, in SI; undefined: nothing is known of it. */
export function valueOf(own: FormField, values: Values): number | undefined {
    const said = values[own.name];
    if (said === UNKNOWN) return undefined;
    if (typeof said === 'number') return said;
    return startOf(own);
}

/** Without the dust of binary fractions: what is stepped is a whole number of steps. */
const clean = (value: number) => Number(value.toPrecision(10));

/** The next whole step in SI, within what is accepted. From nothing known it is the start. */
export function stepped(field: FormValue, own: FormField, values: Values, by: 1 | -1): number {
    const now = valueOf(own, values);
    if (now === undefined) return startOf(own) ?? field.start ?? own.least;
    const { per, zero = 0, step } = field;
    const steps = (now / per + zero) / step;
    const whole = Math.round(steps);
    const isWhole = Math.abs(steps - whole) < 1e-6;
    const next = isWhole ? whole + by : by > 0 ? Math.ceil(steps) : Math.floor(steps);
    return clean(Math.min(Math.max((next * step - zero) * per, own.least), own.most));
}

const digitsOf = (step: number) => (String(step).split('.')[1] ?? '').length;

/** "1.52", "-3", "4 ft 11 in", as it stands between the steppers. */
export function shownNumber({ per, zero = 0, isFeet, step }: FormValue, si: number): string {
    if (isFeet) return feetAndInches(si * 100);
    return (si / per + zero).toFixed(digitsOf(step)).replace('-', '\u2212');
}

/** "give or take 5 cm"; undefined: the table has none. */
export function giveOrTake(field: FormValue, own: FormField, values: Values): string | undefined {
    if (own.pm_name === undefined) return undefined;
    const said = values[own.pm_name];
    const si = typeof said === 'number' ? said : own.start_pm;
    if (typeof si !== 'number' || si === 0) return undefined;
    const isSmall = field.unit === 'm' && si < 0.3;
    const [per, unit] = isSmall ? [0.01, 'cm'] : [field.per, field.unit];
    const text = String(Number((si / per).toPrecision(2)));
    return `give or take ${text}${unit === '\u00b0' ? '' : '\u00a0'}${unit}`;
}

/** "Not told: 2 m/s, give or take 1.5 m/s": what stands for a value that is chosen by words; `any`: when nothing does. */
export function standing(field: FormValue, form: Record<string, FormField[]>, values: Values, any: string): string {
    const own = formField(form, field);
    if (!own) return '';
    const si = valueOf(own, values);
    const lead = values[own.name] === UNKNOWN ? 'Don\u2019t know: ' : values[own.name] === undefined ? 'Not told: ' : '';
    if (si === undefined) return lead + any;
    const number = String(Number((si / field.per + (field.zero ?? 0)).toPrecision(3))).replace('-', '\u2212');
    const give = giveOrTake(field, own, values);
    return `${lead}${number}${field.unit === '\u00b0' ? '' : '\u00a0'}${field.unit}${give ? `, ${give}` : ''}`;
}

const ALL: readonly PlanField[] = [
    DEPTH, DISTANCE, DRIFT, WIND, WIND_SIDE, TIP_LINE, OVERDEPTH, POLE,
    ...SPOT_FIELDS, ...WATER_FIELDS, ...AIM_FIELDS, ...FEED_FIELDS, ...SESSION_FIELDS, ...UNKNOWN_FIELDS,
].filter(({ isPm }) => !isPm);

/** The core's sentence with the name on the screen for the key that it begins with: "Deepest is 1 m; accepted is ...".
 * @param rows  names of the spots or places, in the order of the request */
export function inScreenWords(fault: string, rows: readonly string[]): string {
    return fault.replace(/^(?:plan\.)?(\w+)(?:\[(\d+)\])?(?:\.\w+)*?\.(\w+)(?= is )/, (path, section: string, at: string, key: string) => {
        const isUnknownPeg = section === 'unknown_peg';
        const field = ALL.find((one) => one.key === key && (one.place === 'unknown_peg') === isUnknownPeg);
        if (!field) return path;
        const row = ['spots', 'plumbed'].includes(section) ? rows[Number(at)] : undefined;
        return row ? `${field.name} of \u201c${row}\u201d` : field.name;
    });
}
