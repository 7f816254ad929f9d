// A correction in words: what it changed to what.
import { clockOf, type Body, type Kind } from '../record/line';
import { fieldsOf, valuesOf } from './fields';
import { pmWords } from './moment';

/** "time 11:40:07, give or take 30 s, how big, at a guess: 2 lb"; of an entry of that kind. */
export function sayFix(kind: Kind, body: Body): string {
    const said: string[] = [];
    if (typeof body['at'] === 'string') said.push(`time ${clockOf(body['at'])}`);
    if (typeof body['pm_s'] === 'number') said.push(`give or take ${pmWords(body['pm_s'])}`);
    const values = valuesOf(kind, body);
    for (const field of fieldsOf(kind)) {
        const value = values[field.key];
        if (value === undefined || (field.key === 'amount_in' && values['amount'] === undefined)) continue;
        const choice = field.as === 'choice' ? field.choices.find(([word]) => word === value) : undefined;
        said.push(`${field.name.toLowerCase()}: ${choice?.[1] ?? value}`);
    }
    return said.join(', ');
}
