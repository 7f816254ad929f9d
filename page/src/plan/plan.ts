// A plan as its file holds it (docs/formats.md), and what the screens change in it. Changes make a new plan; keys that the
// screens do not know stay as they are, so that a file read in goes out whole.
import type { Choice } from '../choice';

export const UNKNOWN = "don't know";
export type Values = Record<string, unknown>;

export interface PlanSpot extends Values {
    id: string;
    name?: string;
}
export interface FeedLine extends Values {
    spot: string;
    bait: string;
}
export interface Plan extends Values {
    schema: 1;
    name: string;
    spots: PlanSpot[];
    feed: FeedLine[];
    water?: Values;
    session?: Values;
    unknown_peg?: Values;
}

/** Where a value of the plan stands: at its root, in a section, or in what belongs to one spot (its rig: in the kit). */
export type Place = 'root' | 'water' | 'session' | 'unknown_peg' | 'spot' | 'aim' | 'rig' | 'feed';

/** The index of a spot's line of feed that the screens change: its first. */
const lineOf = (plan: Plan, spot: string): number => plan.feed.findIndex((line) => line.spot === spot);
export const spotOf = (plan: Plan, spot: string): PlanSpot | undefined => plan.spots.find(({ id }) => id === spot);
export const feedOf = (plan: Plan, spot: string): FeedLine | undefined => plan.feed[lineOf(plan, spot)];

const isRecord = (value: unknown): value is Values => typeof value === 'object' && value !== null;
const inside = (value: unknown): Values => (isRecord(value) ? value : {});
/** Rows of the plan's own kit: "baits", "rigs" ... */
export const kitRows = (plan: Values, rows: string): PlanSpot[] =>
    (inside(plan['kit'])[rows] as PlanSpot[] | undefined) ?? [];

export function valuesAt(plan: Plan, spot: string, place: Place): Values {
    const own = spotOf(plan, spot) ?? {};
    switch (place) {
        case 'root':
            return plan;
        case 'spot':
            return own;
        case 'aim':
            return inside((own as Values)['aim']);
        case 'rig':
            return kitRows(plan, 'rigs').find(({ id }) => id === (own as Values)['rig']) ?? {};
        case 'feed':
            return feedOf(plan, spot) ?? {};
        default:
            return inside(plan[place]);
    }
}

/** The values with some changed; those that become undefined are taken out. */
function changed<T extends Values>(values: T, changes: Values): T {
    const next: Values = { ...values, ...changes };
    for (const key of Object.keys(changes)) if (changes[key] === undefined) delete next[key];
    return next as T;
}

export function withValues(plan: Plan, spot: string, place: Place, changes: Values): Plan {
    const ofSpot = (make: (own: PlanSpot) => PlanSpot): Plan => ({
        ...plan,
        spots: plan.spots.map((own) => (own.id === spot ? make(own) : own)),
    });
    switch (place) {
        case 'root':
            return changed(plan, changes);
        case 'spot':
            return ofSpot((own) => changed(own, changes));
        case 'aim':
            return ofSpot((own) => ({ ...own, aim: changed(inside(own['aim']), changes) }));
        case 'rig': {
            // What differs from the catalogue's rig stands in the kit, in a row of the same name.
            const id = String(spotOf(plan, spot)?.['rig']);
            const others = kitRows(plan, 'rigs').filter((row) => row.id !== id);
            const row = changed({ ...valuesAt(plan, spot, 'rig'), id }, changes);
            return { ...plan, kit: { ...inside(plan['kit']), rigs: [...others, row] } };
        }
        case 'feed': {
            const line = lineOf(plan, spot);
            return { ...plan, feed: plan.feed.map((own, i) => (i === line ? changed(own, changes) : own)) };
        }
        default:
            return { ...plan, [place]: changed(inside(plan[place]), changes) };
    }
}

/** Spots that a plan may start with: how far out is where they are on most pegs (common practice, no source). */
const USUAL_SPOTS: readonly [PlanSpot, ...PlanSpot[]] = [
    { id: 'long', distance_m: 11, depth_m: 1.5 },
    { id: 'short', distance_m: 5, depth_m: 1.2 },
    { id: 'margin', distance_m: 2, depth_m: 0.6 },
];
export const MOST_SPOTS = 8;

/** The next spot that is not in the plan yet: a usual one, else one by number. */
function nextSpot(plan: Plan): PlanSpot {
    const isTaken = (id: string) => spotOf(plan, id) !== undefined;
    const usual = USUAL_SPOTS.find(({ id }) => !isTaken(id));
    if (usual) return usual;
    let n = plan.spots.length + 1;
    while (isTaken(`spot ${n}`)) n++;
    return { id: `spot ${n}`, distance_m: 11, depth_m: 1.5 };
}

/** With one more spot, fed as the given one is. */
export function withSpot(plan: Plan, like: string): { plan: Plan; spot: string } {
    const own = nextSpot(plan);
    const pot = spotOf(plan, like)?.['pot'];
    const line = { ...(feedOf(plan, like) as FeedLine), spot: own.id };
    const spot = pot === undefined ? own : { ...own, pot };
    return { plan: { ...plan, spots: [...plan.spots, spot], feed: [...plan.feed, line] }, spot: own.id };
}

export function withoutSpot(plan: Plan, spot: string): Plan {
    return {
        ...plan,
        spots: plan.spots.filter(({ id }) => id !== spot),
        feed: plan.feed.filter((line) => line.spot !== spot),
    };
}

/** One spot of the plan alone, with the rig that was suggested for it last: searching for the best one takes longer than a
 * drawing may. */
export function oneSpot(plan: Plan, spot: string, suggested: object | undefined): Plan {
    const { unknown_peg: _peg, box: _box, ...rest } = plan;
    const own = spotOf(plan, spot);
    const alone = {
        ...rest,
        spots: plan.spots.filter(({ id }) => id === spot),
        feed: plan.feed.filter((line) => line.spot === spot),
    };
    if (own?.['rig'] !== undefined || !suggested) return alone;
    const id = 'suggested';
    const others = kitRows(plan, 'rigs').filter((row) => row.id !== id);
    const kit = { ...inside(plan['kit']), rigs: [...others, { ...suggested, id }] };
    return withValues({ ...alone, kit }, spot, 'spot', { rig: id });
}

/** Tomorrow at nine by the local clock: "2026-11-26T09:00:00+00:00". */
function tomorrowMs(nowMs: number): number {
    const day = new Date(nowMs);
    return new Date(day.getFullYear(), day.getMonth(), day.getDate() + 1, 9).getTime();
}

/** A plan with nothing said but what the quick screen was told last. */
export function freshPlan(choice: Choice, nowMs: number, instantOf: (ms: number) => string): Plan {
    const [usual] = USUAL_SPOTS;
    const spot = { ...usual, depth_m: choice.depthCm / 100, pot: choice.pot };
    return {
        schema: 1,
        name: 'Tomorrow',
        water: { temp_c: choice.isTempKnown ? choice.tempHalfC / 2 : UNKNOWN },
        spots: [spot],
        feed: [{ spot: spot.id, bait: choice.bait, how: 'clump' }],
        session: { starts: instantOf(tomorrowMs(nowMs)) },
    };
}
