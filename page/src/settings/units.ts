// Units in which values are shown, stepped and taken, one choice for each kind of quantity, kept on this device. Inside, and
// in all that is stored, everything is SI.
import type { FormValue } from '../plan/fields';

export interface Unit {
    word: string; // of the choice, and as the core reads it behind a number
    unit: string; // as it is shown
    per: number; // SI in one
    zero?: number; // what stands for 0 of SI
    isFeet?: boolean; // in whole inches, shown as feet and inches
}

const unit = (word: string, per: number, more: Partial<Unit> = {}): Unit => ({ word, unit: word, per, ...more });
const INCH_M = 0.0254;

/** Each with its metric unit first. */
export const QUANTITIES = {
    depth: { name: 'Depth', units: [unit('m', 1), unit('ft', INCH_M, { unit: 'in', isFeet: true })] },
    distance: { name: 'Distance', units: [unit('m', 1), unit('ft', 12 * INCH_M)] },
    length: { name: 'Line, rig and jar', units: [unit('cm', 0.01), unit('in', INCH_M)] },
    temp: { name: 'Temperature', units: [unit('C', 1, { unit: '\u00b0C' }), unit('F', 5 / 9, { unit: '\u00b0F', zero: 32 })] },
    wind: { name: 'Wind', units: [unit('m/s', 1), unit('mph', 0.44704), unit('km/h', 1 / 3.6)] },
} as const satisfies Record<string, { name: string; units: readonly [Unit, ...Unit[]] }>;
export type Quantity = keyof typeof QUANTITIES;

const KEY = 'baitfall.units';
let chosen: Partial<Record<string, string>> = {};
try {
    chosen = Object(JSON.parse(localStorage.getItem(KEY) ?? '{}'));
} catch (fault) {
    if (!(fault instanceof SyntaxError)) throw fault;
}

export function unitOf(quantity: Quantity): Unit {
    const { units } = QUANTITIES[quantity];
    return units.find(({ word }) => word === chosen[quantity]) ?? units[0];
}
export function chooseUnit(quantity: Quantity, word: string): void {
    chosen = { ...chosen, [quantity]: word };
    localStorage.setItem(KEY, JSON.stringify(chosen));
}

/** Which quantity is meant by a key of the core's and the metric unit that the page gives it. */
function quantityOf(key: string, metric: string): Quantity | undefined {
    if (metric === 'm') return key.startsWith('depth') ? 'depth' : 'distance';
    return (Object.keys(QUANTITIES) as Quantity[]).find((one) => [QUANTITIES[one].units[0].unit, QUANTITIES[one].units[0].word].includes(metric));
}

/** The unit to show and take it in; undefined: it has none of its own. */
export function unitFor(key: string, metric: string): Unit | undefined {
    const quantity = quantityOf(key, metric);
    return quantity && unitOf(quantity);
}

/** About as far, as a round number: 1, 2 or 5 and zeros. */
function roundStep(step: number): number {
    const ten = 10 ** Math.floor(Math.log10(step));
    const round = [1, 2, 5, 10].map((one) => one * ten);
    const off = (one: number) => Math.abs(Math.log(one / step));
    return Number(round.reduce((a, b) => (off(b) < off(a) ? b : a)).toPrecision(1));
}

/** The field in the unit that was chosen for it. */
export function inOwnUnit<Field extends FormValue>(field: Field): Field {
    const own = unitFor(field.key, field.unit);
    if (!own || own.unit === field.unit) return field;
    const step = roundStep((field.step * field.per) / own.per);
    return { ...field, ...own, step: own.isFeet ? Math.max(step, 1) : step };
}
