// The record for components: one recorder for the page, and answers that keep up with it.
import { createContext } from 'preact';
import { useContext, useEffect, useReducer, useState } from 'preact/hooks';
import type { Recorder } from './record';

export const RecorderContext = createContext<Recorder | undefined>(undefined);

/** The recorder; the component is drawn again whenever anything in it has changed. */
export function useRecorder(): Recorder {
    const recorder = useContext(RecorderContext);
    if (!recorder) throw new Error('No recorder is given.');
    const [, redraw] = useReducer((n: number) => n + 1, 0);
    useEffect(() => recorder.onChange(() => redraw(undefined)), [recorder]);
    return recorder;
}

/** The answer to a question about the journal, asked again after every change of it. The older answer stands until the
 * newer one is there. */
export function useAsked<T>(question: string, request: object): { answer?: T; fault?: string } {
    const recorder = useRecorder();
    const [kept, setKept] = useState<{ answer?: T; fault?: string }>({});
    const text = JSON.stringify(request);
    useEffect(() => {
        let isOver = false;
        recorder.ask<T>(question, JSON.parse(text) as object).then(
            (answer) => !isOver && setKept({ answer }),
            (fault: Error) => !isOver && setKept({ fault: fault.message }),
        );
        return () => {
            isOver = true;
        };
    }, [recorder, recorder.version, question, text]);
    return kept;
}
