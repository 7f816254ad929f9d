// What the screens of a plan offer: the core's catalogue and tables, asked once.
import { useEffect, useState } from 'preact/hooks';
import { ask, type FormField } from '../questions';
import type { PlanOffer } from './answers';

async function askOffer(): Promise<PlanOffer> {
    const catalogue = await ask<Omit<PlanOffer, 'form'>>('plan now', 'catalogue', {});
    const { sections } = await ask<{ sections: Record<string, FormField[]> }>('plan now', 'form', {});
    return { ...catalogue, form: sections };
}

let asked: Promise<PlanOffer> | undefined;

export function usePlanOffer(): { offer?: PlanOffer; fault?: string } {
    const [kept, setKept] = useState<{ offer?: PlanOffer; fault?: string }>({});
    useEffect(() => {
        asked ??= askOffer();
        asked.then(
            (offer) => setKept({ offer }),
            (reason: Error) => {
                asked = undefined; // the next look asks again
                setKept({ fault: reason.message });
            },
        );
    }, []);
    return kept;
}
