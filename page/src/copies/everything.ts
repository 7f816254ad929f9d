// Everything that this browser keeps beside the journal, under one name each ("plan/Tomorrow", "setting/baitfall.look"), out of
// it and into it. Not among it: what belongs to this browser alone, and what can be fetched again.
import { Snapshots, type Lesson } from '../background/snapshots';
import { drop, keep, loadSaved, type SavedPlan } from '../plan/keep';
import type { Recorder } from '../record/record';

export type Things = Record<string, unknown>;

/** The first line of a file of everything; the other lines are the journal's. */
export interface Head {
    everything: 1;
    at: string; // when it was written
    entries: number; // how many lines follow
    things: Things;
}

interface Place {
    all: () => Promise<Things>;
    put: (key: string, value: unknown) => Promise<void>; // undefined takes it away
}

const OWN = ['dev', 'copied', 'joined', 'plans']; // plans have a place of their own
const PREFIX = 'baitfall.';
const OWN_SETTINGS = /^baitfall\.(dev|jump|held\.)/;

function placesOf(recorder: Recorder): Record<string, Place> {
    const { store } = recorder;
    const snapshots = new Snapshots();
    return {
        plan: {
            all: async () => Object.fromEntries((await loadSaved(recorder)).map((saved) => [saved.plan.name, saved])),
            put: async (name, saved) => void (await (saved ? keep(recorder, saved as SavedPlan) : drop(recorder, name))),
        },
        kept: {
            all: async () =>
                Object.fromEntries(Object.entries(await store.entries('meta')).filter(([key]) => !OWN.includes(key))),
            put: (key, value) => store.setMeta(key, value),
        },
        draft: { all: () => store.entries('drafts'), put: (key, value) => store.setDraft(key, value) },
        setting: {
            all: async () => {
                const keys = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX) && !OWN_SETTINGS.test(key));
                return Object.fromEntries(keys.map((key) => [key, localStorage.getItem(key)]));
            },
            put: async (key, value) =>
                value === undefined ? localStorage.removeItem(key) : localStorage.setItem(key, String(value)),
        },
        learned: {
            all: async () => Object.fromEntries((await snapshots.lessons()).map((lesson) => [lesson.key, lesson])),
            // Worked out again when it is missing; of a file only what the core can learn from is believed.
            put: async (_, lesson) => {
                const { summary } = (lesson ?? {}) as Partial<Lesson>;
                if (!summary) return;
                await recorder.ask('season', { learned: [summary] }).then(
                    () => snapshots.put(lesson as Lesson),
                    () => undefined,
                );
            },
        },
    };
}

export async function thingsOf(recorder: Recorder): Promise<Things> {
    const things: Things = {};
    for (const [place, { all }] of Object.entries(placesOf(recorder)))
        for (const [key, value] of Object.entries(await all())) things[`${place}/${key}`] = value;
    return things;
}

/** Puts them where they belong. A name that this version has no place for is left out. */
export async function putThings(recorder: Recorder, things: Things): Promise<void> {
    const places = placesOf(recorder);
    for (const [name, value] of Object.entries(things)) {
        const slash = name.indexOf('/');
        const key = name.slice(slash + 1);
        if (!OWN.includes(key)) await places[name.slice(0, slash)]?.put(key, value);
    }
}

export const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

export interface Compared {
    fresh: Things; // not here
    other: Things; // here, and different
}

/** What putting these things in would do to what is here. A saved plan is never in the way: it comes beside an older one of
 * its name. */
export function compared(here: Things, there: Things): Compared {
    const result: Compared = { fresh: {}, other: {} };
    for (const [name, value] of Object.entries(there)) {
        if (isSame(here[name], value)) continue;
        if (here[name] === undefined) result.fresh[name] = value;
        else if (!name.startsWith('plan/')) result.other[name] = value;
        else {
            const [free, saved] = beside(here, value as SavedPlan);
            if (!isSame(here[free], saved)) result.fresh[free] = saved;
        }
    }
    return result;
}

const NAME_BYTES = 48; // of a plan's name
const nBytes = (text: string) => new TextEncoder().encode(text).length;

/** Under the next name that is free, or that holds the same: "Tomorrow 2". */
function beside(here: Things, saved: SavedPlan): [string, SavedPlan] {
    for (let n = 2; ; n++) {
        const letters = [...saved.plan.name];
        while (nBytes(`${letters.join('')} ${n}`) > NAME_BYTES) letters.pop();
        const plan = { ...saved.plan, name: `${letters.join('')} ${n}` };
        const there = here[`plan/${plan.name}`];
        if (there === undefined || isSame(there, { ...saved, plan })) return [`plan/${plan.name}`, { ...saved, plan }];
    }
}
