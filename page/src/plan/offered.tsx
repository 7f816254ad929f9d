// The frame of a screen that needs what the core offers and the plan being made: the plan, its card, the peg.
import type { ComponentChild } from 'preact';
import { Frame, type Tab } from '../frame';
import { useRecorder } from '../record/hooks';
import type { Route } from '../route';
import type { PlanOffer } from './answers';
import { useDraftPlan } from './keep';
import { usePlanOffer } from './offer';
import type { Plan } from './plan';

type Show = (offer: PlanOffer, plan: Plan, setPlan: (plan: Plan) => void) => ComponentChild;

function WithDraft({ offer, show }: { offer: PlanOffer; show: Show }) {
    const { plan, setPlan } = useDraftPlan(useRecorder(), offer);
    return <>{plan && show(offer, plan, setPlan)}</>;
}

interface Offered {
    title: string;
    below: string;
    shown: Route;
    tabs: readonly Tab[];
    show: Show;
}

export function OfferedScreen({ show, ...frame }: Offered) {
    const { offer, fault } = usePlanOffer();
    return (
        <Frame {...frame}>
            {fault && (
                <p class="caution" role="alert">
                    <b>The calculator did not start.</b> {fault}
                </p>
            )}
            {offer && <WithDraft offer={offer} show={show} />}
        </Frame>
    );
}
