// Where plans are kept: the one being made, as it stands after every step, and those saved under their names. They lie in the
// page's own store, beside the record.
import { useEffect, useRef, useState } from 'preact/hooks';
import { kitMember, loadKit, mergedKit, offeredWith, type Kit } from '../kit/kit';
import { rememberedChoice, type Choice } from '../choice';
import { instant } from '../record/line';
import type { Recorder } from '../record/record';
import type { PlanOffer } from './answers';
import { DEPTH, TEMPERATURE, formField } from './fields';
import { freshPlan, type Plan } from './plan';

const DRAFT = 'plan';
const SAVED = 'plans';

export interface SavedPlan {
    at: string; // when it was saved
    plan: Plan;
}

export const loadSaved = async (recorder: Recorder): Promise<SavedPlan[]> =>
    (await recorder.store.meta<SavedPlan[]>(SAVED)) ?? [];

/** Those saved, and the one being made where none is saved under its name. */
export async function loadPlans(recorder: Recorder): Promise<Plan[]> {
    const saved = (await loadSaved(recorder)).map(({ plan }) => plan);
    const draft = await recorder.store.draft<Plan>(DRAFT);
    return !draft || saved.some(({ name }) => name === draft.name) ? saved : [draft, ...saved];
}

/** Saves it under its name, in the place of an older one of that name; the newest comes first. */
export function save(recorder: Recorder, plan: Plan): Promise<SavedPlan[]> {
    return keep(recorder, { at: instant(Date.now()), plan });
}

/** As `save`, with the time at which it was saved first. */
export async function keep(recorder: Recorder, saved: SavedPlan): Promise<SavedPlan[]> {
    const others = (await loadSaved(recorder)).filter(({ plan }) => plan.name !== saved.plan.name);
    const all = [saved, ...others];
    await recorder.store.setMeta(SAVED, all);
    return all;
}

/** Takes the plan of that name out of those saved. */
export async function drop(recorder: Recorder, name: string): Promise<SavedPlan[]> {
    const others = (await loadSaved(recorder)).filter(({ plan }) => plan.name !== name);
    await recorder.store.setMeta(SAVED, others);
    return others;
}

/** A plan with nothing said but what the quick screen was told last. */
export function startPlan({ baits, pots, form }: PlanOffer): Plan {
    const depth = formField(form, DEPTH);
    const temp = formField(form, TEMPERATURE);
    if (!depth || !temp) throw new Error('The core knows no depth or temperature.');
    return freshPlan(rememberedChoice({ baits, pots, depth, temp }), Date.now(), instant);
}

/** Makes a plan for tomorrow of what the quick screen was told, in the place of none: it is for who has no plan yet. */
export const planOf = (recorder: Recorder, choice: Choice): Promise<void> =>
    recorder.store.setDraft(DRAFT, freshPlan(choice, Date.now(), instant));

/** What the kit says goes into the plan that is being made; a plan still to be made takes it as it begins. */
export async function takeIntoDraft(recorder: Recorder, kit: Kit): Promise<void> {
    const plan = await recorder.store.draft<Plan>(DRAFT);
    if (plan) await recorder.store.setDraft(DRAFT, { ...plan, kit: mergedKit(plan['kit'], kit) });
}

/** A plan that has no kit takes this device's. */
export async function withOwnKit(recorder: Recorder, plan: Plan): Promise<Plan> {
    return plan['kit'] === undefined ? { ...plan, ...kitMember(await loadKit(recorder)) } : plan;
}

async function begun(recorder: Recorder, offer: PlanOffer): Promise<Plan> {
    const kit = await loadKit(recorder);
    return withOwnKit(recorder, startPlan(offeredWith(kit, offer)));
}

/** The plan that is being made: the one left last time, else a fresh one. */
export function useDraftPlan(recorder: Recorder, offer: PlanOffer): { plan: Plan | undefined; setPlan: (plan: Plan) => void } {
    const [plan, show] = useState<Plan>();
    const latest = useRef<Plan>();
    useEffect(() => {
        const begin = (plan: Plan) => {
            latest.current ??= plan;
            show(latest.current);
        };
        const kept = async () => (await recorder.store.draft<Plan>(DRAFT)) ?? (await begun(recorder, offer));
        kept().then(begin, () => begin(startPlan(offer))); // a store that does not open is told by the home screen
    }, [recorder]);
    const setPlan = (next: Plan) => {
        latest.current = next;
        show(next);
        recorder.store.setDraft(DRAFT, next).catch(() => undefined); // as above
    };
    return { plan, setPlan };
}
