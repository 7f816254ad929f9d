// The session that begins with a plan: its opening, what was plumbed and measured, and what the Bank takes from it.
import type { PegAnswer, PlanOffer } from '../plan/answers';
import { feedOf, spotOf, type Plan, type Values } from '../plan/plan';
import { ask, type Answer } from '../questions';
import type { Body } from '../record/line';
import type { Recorder } from '../record/record';
import { carry } from './carried';
import { forgetToday, type Today } from './today';

export interface Beginning {
    recorder: Recorder;
    plan: Plan;
    today: Today;
    answer: PegAnswer;
    offer: PlanOffer;
}

const only = (values: Values, keys: readonly string[]): Body =>
    Object.fromEntries(
        keys.flatMap((key) => {
            const value = values[key];
            return typeof value === 'number' || typeof value === 'string' ? [[key, value]] : [];
        }),
    );

/** What FEED puts in: as the plan's line for the spot says it, the pot as large as the core takes it for. */
async function presetOf({ plan, answer, offer }: Beginning): Promise<{ feed: Body; pot: string }> {
    const { spot } = answer.spot;
    const line = feedOf(plan, spot) ?? {};
    const bait = String((line as Values)['bait'] ?? answer.first_feed.bait);
    const pot = String(spotOf(plan, spot)?.['pot'] ?? offer.pots[0]?.word);
    const kit = plan['kit'] === undefined ? {} : { kit: plan['kit'] };
    const { inputs } = await ask<Answer>('pot', 'pot', { bait, pot, ...kit });
    const pot_m3 = inputs['pot']?.['volume_m3'];
    const { fill, ...said } = line as Values;
    const amount = only({ ...said, fill_frac: fill }, ['count', 'volume_m3', 'fill_frac']);
    return {
        pot: offer.pots.some(({ word }) => word === pot) ? pot : '',
        feed: {
            spot,
            bait,
            ...(Object.keys(amount).length > 0 ? amount : { fill_frac: 1 }),
            ...(typeof pot_m3 === 'number' && { pot_m3 }),
            how: 'clump',
            ...only(said, ['how', 'over_s', 'wide_m']),
        },
    };
}

export async function openWith(beginning: Beginning): Promise<void> {
    const { recorder, plan, today, answer, offer } = beginning;
    void navigator.storage?.persist?.().catch(() => false); // a "no" is told with the copies
    const venue = (plan['venue'] as { name?: string } | undefined)?.name;
    const hook = spotOf(plan, answer.spot.spot)?.['hook_bait'];
    const opening = await recorder.read('open', {
        ...(venue && { venue }),
        ...(today.peg && { peg: today.peg }),
        plan: plan.name,
        ...(typeof hook === 'string' && { hook_bait: hook }),
    });
    const { feed, pot } = await presetOf(beginning);
    const plumbed = await Promise.all(
        today.places
            .filter(({ isPlumbed }) => isPlumbed)
            .map((place) =>
                recorder.read('plumb', { spot: place.id, ...only(place, ['distance_m', 'side_m', 'depth_m', 'bottom']) }),
            ),
    );
    const wind = offer.winds.find(({ word }) => word === today.wind);
    const side = offer.sides.find(({ word }) => word === today.side);
    const measured = {
        ...(typeof today.temp_c === 'number' && { temp_c: today.temp_c }),
        ...(wind && { wind_m_s: wind.wind_m_s }),
        ...(side && { wind_side_deg: side.wind_side_deg }),
    };
    const water = Object.keys(measured).length > 0 ? await recorder.read('water', measured) : undefined;

    const { event } = recorder.log('open', opening);
    const session = event.id;
    const { mid, nominal } = answer.wait_s;
    await carry(recorder, { session, feed, pot, wait_s: mid ?? nominal });
    for (const body of plumbed) recorder.log('plumb', body, { session });
    if (water) recorder.log('water', water, { session });
    await forgetToday(recorder);
}
