// What the bed's model learned from the sessions of the record: worked out by the belief's worker a session at a time, and kept there.
import { useEffect, useState } from 'preact/hooks';
import { lessons, useDesk } from '../believing';
import { useRecorder } from '../record/hooks';

export interface Learning {
    /** What the sessions told, once all is worked out: what the core takes as "learned". */
    learned?: unknown[];
    /** "2 of 5 sessions done, the others take about 40 s." */
    words: string;
    fault?: string;
}

const KEPT_S = 0.3; // what comes sooner was kept, and tells nothing of how long the others take

function timeWords(nLeft: number, each_s: number): string {
    if (Number.isNaN(each_s)) return 'each takes some seconds, on a phone up to a minute';
    const left_s = Math.ceil((each_s * nLeft) / 5) * 5;
    return `about ${left_s < 120 ? `${left_s} s` : `${Math.round(left_s / 60)} min`} to go`;
}

export function useLearned(): Learning {
    const recorder = useRecorder();
    const [learning, setLearning] = useState<Learning>({ words: 'What your sessions told the model of the bed is looked for.' });
    useDesk();
    useEffect(() => {
        let isOver = false;
        let last_ms = NaN;
        const took_s: number[] = []; // each that had to be worked out
        const begun = (nDone: number, nSessions: number): boolean => {
            const now_ms = performance.now();
            if (now_ms - last_ms > 1000 * KEPT_S) took_s.push((now_ms - last_ms) / 1000);
            last_ms = now_ms;
            const time = timeWords(nSessions - nDone, took_s.reduce((sum, s) => sum + s, 0) / took_s.length);
            const words = `What your sessions told the model of the bed is worked out once: ${nDone} of ${nSessions} done, ${time}.`;
            if (!isOver) setLearning({ words });
            return !isOver;
        };
        lessons(recorder, begun).then(
            (learned) => !isOver && setLearning({ learned, words: '' }),
            (fault: Error) => !isOver && setLearning({ words: '', fault: fault.message }),
        );
        return () => {
            isOver = true;
        };
    }, [recorder, recorder.version]);
    return learning;
}
