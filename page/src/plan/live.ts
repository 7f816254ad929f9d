// An answer as it is stepped: at once the nominal numbers and drawings, a moment later everything with its ranges. Each is
// asked at a desk of its own, so that a step never waits for the ranges of the step before.
import { useNewest } from '../newest';
import { ask } from '../questions';

/** So long must a request stand before its ranges are worked out. */
const SETTLED_MS = 250;

export interface Live<Answer> {
    answer: Answer | undefined; // the newest there is
    whole: Answer | undefined; // the newest with ranges and lists; perhaps to an older request
    fault: string;
    isWorking: boolean; // ranges are still to come
}

/** @param request  the same object as long as nothing has changed in it
 *  @param now      what is asked at once: the request, or as much of it as is shown first */
export function useLive<Answer>(command: string, request: object, now: object = request): Live<Answer> {
    const first = useNewest(now, (asked) => ask<Answer>(`${command} now`, command, { ...asked, nominal: true }));
    const whole = useNewest(request, (asked) => ask<Answer>(command, command, asked), SETTLED_MS);
    const isWhole = whole?.of === request;
    const newest = isWhole ? whole : (first ?? whole);
    return {
        answer: newest?.answer,
        whole: whole?.answer,
        fault: newest?.fault ?? '',
        isWorking: !isWhole,
    };
}
