// What is found at the drawn peg: told in a few presses, kept as it stands, and what it asks the core.
import { useEffect, useState } from 'preact/hooks';
import { TEMPERATURE } from '../plan/fields';
import { valuesAt, type Plan, type Values } from '../plan/plan';
import type { Recorder } from '../record/record';

/** A place plumbed, or still as the plan has it. */
export interface Plumbed extends Values {
    id: string;
    isPlumbed?: boolean; // a depth was taken there today
}
export interface Today {
    plan: string; // the name of the plan that it is for
    peg: string;
    wind: string; // a word of the core's; '': as planned
    side: string;
    temp_c?: unknown;
    places: Plumbed[];
}

export const MOST_PLACES = 6;
const PLACE_KEYS = ['distance_m', 'side_m', 'depth_m', 'bottom'] as const;

function todayOf(plan: Plan): Today {
    const places = plan.spots.slice(0, MOST_PLACES).map((spot) => ({
        id: spot.id,
        ...Object.fromEntries(PLACE_KEYS.flatMap((key) => (spot[key] === undefined ? [] : [[key, spot[key]]]))),
    }));
    return { plan: plan.name, peg: '', wind: '', side: '', temp_c: valuesAt(plan, '', 'water')[TEMPERATURE.key], places };
}

/** The same places as a plan's spots, so that the plan's controls step them. */
export const asPlan = (today: Today): Plan => ({
    schema: 1,
    name: today.plan,
    spots: today.places,
    feed: [],
    water: { ...(today.temp_c !== undefined && { temp_c: today.temp_c }) },
});
export const fromPlan = (today: Today, { spots, water }: Plan): Today => ({
    ...today,
    places: spots.map((spot, i) =>
        spot['depth_m'] === today.places[i]?.['depth_m'] ? spot : { ...spot, isPlumbed: true },
    ),
    ...(water?.['temp_c'] !== undefined && { temp_c: water['temp_c'] }),
});

/** One more place, between the last two or beyond the last. */
export function withPlace(today: Today): Today {
    const last = today.places.at(-1) as Plumbed;
    const n = today.places.length + 1;
    return { ...today, places: [...today.places, { ...last, id: `place ${n}`, isPlumbed: false }] };
}

/** The request for the core. */
export function requestOf(plan: Plan, today: Today): object {
    const { peg, wind, side, temp_c, places } = today;
    return {
        plan,
        ...(peg && { peg }),
        plumbed: places.map(({ isPlumbed: _, ...place }) => place),
        ...(wind && { wind }),
        ...(side && { wind_side: side }),
        ...(temp_c !== undefined && { temp_c }),
        pictures: ['section'],
    };
}

const DRAFT = 'peg';

/** What was told of today's peg; told of another plan, it starts afresh. Undefined until what was told is known: nothing is
 * shown, asked or stepped before. */
export function useToday(recorder: Recorder, plan: Plan): { today: Today | undefined; setToday: (today: Today) => void } {
    const [today, show] = useState<Today>();
    useEffect(() => {
        const begin = (kept?: Today) => show(kept?.plan === plan.name ? kept : todayOf(plan));
        recorder.store.draft<Today>(DRAFT).then(begin, () => begin()); // a store that does not open is told by the home screen
    }, [recorder]);
    const setToday = (next: Today) => {
        show(next);
        recorder.store.setDraft(DRAFT, next).catch(() => undefined); // as above
    };
    return { today, setToday };
}

export const forgetToday = (recorder: Recorder): Promise<void> => recorder.store.setDraft(DRAFT, undefined);
