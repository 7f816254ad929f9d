// A fish's weight as it is keyed in, one key after another, and what it comes to.

const KG_IN_LB = 0.45359237;
const OZ_IN_LB = 16;

export type WeightUnit = 'lb' | 'kg';

/** "4-6" is 4 lb 6 oz, "4" is 4 lb, "1.98" is kg. Undefined while it is no weight of a fish. */
export function weightKg(keyed: string, unit: WeightUnit): number | undefined {
    if (unit === 'kg') {
        const kg = /^\d{1,2}(\.\d{0,3})?$/.test(keyed) ? Number(keyed) : NaN;
        return kg > 0 ? kg : undefined;
    }
    const [, lb = '', , oz = ''] = /^(\d{0,3})(-(\d{1,2})?)?$/.exec(keyed) ?? [];
    if (Number(oz) >= OZ_IN_LB) return undefined;
    const pounds = Number(lb) + Number(oz) / OZ_IN_LB;
    return pounds > 0 ? Math.round(pounds * KG_IN_LB * 1e4) / 1e4 : undefined;
}

/** What was understood: "4 lb 6 oz", "1.98 kg". */
export function weightWords(keyed: string, unit: WeightUnit): string {
    if (keyed === '') return unit === 'kg' ? '0 kg' : '0 lb';
    if (unit === 'kg') return `${keyed} kg`;
    const [lb = '', oz] = keyed.split('-');
    return oz === undefined ? `${lb} lb` : `${lb || '0'} lb ${oz || '0'} oz`;
}

/** What is keyed after one more key; a key that makes no sense there changes nothing. */
export function afterKey(keyed: string, key: string, unit: WeightUnit): string {
    if (key === 'back') return keyed.slice(0, -1);
    const next = keyed + key;
    const isFine = unit === 'kg' ? /^\d{1,2}(\.\d{0,3})?$/ : /^\d{0,3}(-(\d|1[0-5])?)?$/;
    return isFine.test(next) ? next : keyed;
}
