// A plan out of a file.
import { ask } from '../questions';
import type { PlanAnswer } from './answers';
import { kitRows, type Plan, type PlanSpot } from './plan';

const MOST_BYTES = 1 << 20;

/** Rows as the core read them, with the names that they were given for people. */
const withNames = (rows: readonly PlanSpot[], given: readonly PlanSpot[]): PlanSpot[] =>
    rows.map((row) => {
        const name = given.find(({ id }) => id === row.id)?.name;
        return name === undefined ? row : { ...row, name };
    });

/** A plan as the core understands it: amounts with units become numbers that can be stepped, and every key is checked. Rejects with
 * the sentence of what is wrong. */
export async function readPlan(text: string, fileName: string): Promise<Plan> {
    if (text.length > MOST_BYTES) throw new Error('The file is larger than a plan can be: 1 MiB.');
    const plan = JSON.parse(text) as Plan;
    const { inputs } = await ask<PlanAnswer>('plan now', 'plan', { ...plan, nominal: true });
    const read = inputs as Plan;
    const { draws, seed } = plan; // how it is to be drawn: what is read without draws does not say so
    const session = { ...plan.session, ...read.session }; // species and aims are read by nobody yet
    const kit = Object.entries((read['kit'] ?? {}) as Record<string, PlanSpot[]>).map(
        ([rows, list]) => [rows, withNames(list, kitRows(plan, rows))] as const,
    );
    return {
        ...read,
        ...(draws !== undefined && { draws }),
        ...(seed !== undefined && { seed }),
        schema: 1,
        name: plan.name ?? fileName,
        session,
        kit: Object.fromEntries(kit),
        spots: withNames(read.spots, plan.spots),
    };
}
