// Plan: what is known the evening before on one side, what it comes to on the other.
//   plan.ts    the plan itself         fields.ts  values and their steps      questions.tsx  what is asked
//   live.ts    the answer, as stepped  answer.tsx what it comes to            keep.ts        where plans are kept
import { useMemo, useRef, useState } from 'preact/hooks';
import { Chips } from '../chips';
import type { Tab } from '../frame';
import { OtherNotes } from '../notes';
import { instant } from '../record/line';
import { Words } from '../terms';
import { capital } from '../words';
import type { PlanAnswer, PlanOffer } from './answers';
import { Drawings, Evening, Readings, RigLists, notesOf } from './answer';
import { PlanActs } from './acts';
import { useLive } from './live';
import { OfferedScreen } from './offered';
import { oneSpot, type Plan } from './plan';
import { FullQuestions, ShortQuestions, UnknownPeg } from './questions';

const DEPTHS = [
    ['short', 'Few questions'],
    ['full', 'All questions'],
] as const;
const KEY = 'baitfall.plan';

function PlanSheet({ offer, plan, setPlan }: { offer: PlanOffer; plan: Plan; setPlan: (plan: Plan) => void }) {
    const [depth, setDepth] = useState(() => (localStorage.getItem(KEY) === 'full' ? 'full' : 'short'));
    const [chosen, setSpot] = useState('');
    const own = plan.spots.find(({ id }) => id === chosen) ?? plan.spots[0];
    const spot = own?.id ?? '';
    const request = useMemo(() => ({ ...plan, pictures: ['section', 'above'] }), [plan]);
    const suggested = useRef(new Map<string, object>());
    const now = useMemo(
        () => ({ ...oneSpot(plan, spot, suggested.current.get(spot)), pictures: ['section'] }),
        [plan, spot],
    );
    const live = useLive<PlanAnswer>('plan', request, now);
    for (const { spot: id, rig } of live.whole?.spots ?? [])
        if (rig?.is_suggested && rig.record) suggested.current.set(id, rig.record);
    const props = { editing: { plan, spot, form: offer.form, setPlan }, offer, onSpot: setSpot };
    const choose = (next: string) => {
        localStorage.setItem(KEY, next);
        setDepth(next);
    };
    return (
        <>
            <div class="plan-depth">
                <Chips label="How much to plan" isEven choices={DEPTHS} chosen={depth} onChoose={choose} />
            </div>
            <div class="plan">
                <section class="known" aria-label="What you know">
                    {depth === 'short' ? <ShortQuestions {...props} /> : <FullQuestions {...props} instantOf={instant} />}
                    <UnknownPeg editing={props.editing} />
                </section>
                <div class="comes-to">
                    <Readings live={live} plan={plan} spot={spot} title={capital(own?.name ?? spot)} />
                    <Drawings live={live} spot={spot} />
                    <RigLists live={live} spot={spot} />
                </div>
                <PlanActs plan={plan} setPlan={setPlan} />
                <div class="evening">
                    <Evening live={live} />
                    <Words />
                </div>
                <OtherNotes notes={notesOf(live.answer, spot)} />
            </div>
        </>
    );
}

export function PlanScreen({ tabs }: { tabs: readonly Tab[] }) {
    return (
        <OfferedScreen
            title="Plan"
            below="Rig, feed and aim for the day"
            shown="plan"
            tabs={tabs}
            show={(offer, plan, setPlan) => <PlanSheet offer={offer} plan={plan} setPlan={setPlan} />}
        />
    );
}
