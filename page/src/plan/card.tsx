// The card: what goes to the water on paper when the phone stays dry. Drawn by the core, printed by itself.
import { useMemo, useState } from 'preact/hooks';
import { Chips } from '../chips';
import type { Tab } from '../frame';
import { useNewest } from '../newest';
import { Printed, type Paper } from '../print';
import { ask, type Picture } from '../questions';
import type { PlanAnswer } from './answers';
import { inScreenWords } from './fields';
import { OfferedScreen } from './offered';
import type { Plan } from './plan';

const PAPERS = [
    ['a6', 'A6, two sides'],
    ['a5-across', 'A5, one side'],
    ['half-letter', 'Half-Letter, two sides'],
    ['a4-four', 'A4, two of A6'],
] as const;
/** The pictures of each card, in the order of its pages. */
const PAGES = { a6: ['card-a6-front', 'card-a6-back'], a5: ['card-a5'] } as const;

function CardSheets({ plan }: { plan: Plan }) {
    const [paper, setPaper] = useState<Paper>('a6');
    const card = paper === 'a5-across' ? 'a5' : 'a6';
    const [isPrinting, setIsPrinting] = useState(false);
    const request = useMemo(() => ({ ...plan, pictures: [`card-${card}`] }), [plan, card]);
    const drawn = useNewest(request, (asked) => ask<PlanAnswer>('plan', 'plan', asked));
    const isNew = drawn?.of === request;
    const pictures = PAGES[card].flatMap((page: string): Picture | Picture[] => drawn?.answer?.pictures?.[page] ?? []);
    return (
        <section class="plan-card" aria-busy={!isNew}>
            <Chips label="Paper" isEven choices={PAPERS} chosen={paper} onChoose={(word) => setPaper(word as Paper)} />
            <button type="button" class="main-act" disabled={!isNew || pictures.length === 0} onClick={() => setIsPrinting(true)}>
                Print
            </button>
            {isNew && drawn.fault && (
                <p class="caution" role="alert">
                    {inScreenWords(drawn.fault, plan.spots.map(({ id, name }) => name ?? id))}
                </p>
            )}
            {!isNew && (
                <p class="working" role="status">
                    The card is being drawn.
                </p>
            )}
            <div class={`sheets ${card}`}>
                {isNew && pictures.map(({ svg }, i) => <figure key={i} dangerouslySetInnerHTML={{ __html: svg }} />)}
            </div>
            {isPrinting && (
                <Printed
                    pages={(paper === 'a4-four' ? [...pictures, ...pictures] : pictures).map(({ svg }) => svg)}
                    paper={paper}
                    onPrinted={() => setIsPrinting(false)}
                />
            )}
        </section>
    );
}

export function CardScreen({ tabs }: { tabs: readonly Tab[] }) {
    return (
        <OfferedScreen
            title="Card"
            below="The plan on paper"
            shown="card"
            tabs={tabs}
            show={(_, plan) => <CardSheets plan={plan} />}
        />
    );
}
