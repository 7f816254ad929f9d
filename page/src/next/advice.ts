// What to do next, kept in step with the journal while the Bank or its advice is looked at. What was said last goes with each
// question, so that the advice does not flap.
import { useMemo } from 'preact/hooks';
import { believe, useLooking, type Looked, type Looking } from '../believing';
import { useRecorder } from '../record/hooks';
import type { Recorder } from '../record/record';
import type { Aim } from '../setup';
import type { Action, NextAnswer } from './answers';

const KEY = 'next';
const SAME_WAIT_MS = 30_000;

export interface Advised extends Looked<NextAnswer> {
    given: Action | null; // as it was first said: how long it has stood counts from then
}
export type Advice = Looking<Advised>;

/** The newest that this window knows of: it stands there at the first look. */
let newest: Advised | undefined;

export async function loadAdvice(recorder: Recorder): Promise<void> {
    try {
        newest = await recorder.store.meta<Advised>(KEY);
    } catch {
        // the bar "NOT SAVED" tells why
    }
}

/** What was advised last in a session, for screens that do not ask. */
export const lastAdvice = (session: string | undefined): NextAnswer | undefined =>
    newest?.answer.session.id === session ? newest?.answer : undefined;

const endMs = ({ at, wait_s }: Action) => Date.parse(at) + 1000 * wait_s;

function isSame(a: Action, b: Action): boolean {
    const isAlike = (['what', 'spot', 'hook_bait', 'bait', 'count', 'how', 'every_s', 'after_bite'] as const).every((key) => a[key] === b[key]);
    return isAlike && (a.what !== 'wait' || Math.abs(endMs(a) - endMs(b)) < SAME_WAIT_MS);
}

async function advise(recorder: Recorder, session: string, aim: Aim): Promise<Advised> {
    const before = newest?.answer.session.id === session ? newest.given : null;
    const { objective, target_kg } = aim;
    const more = {
        objective,
        ...(objective === 'target' && target_kg !== undefined && { target_kg }),
        phone: true,
        given: before,
    };
    const looked = await believe<NextAnswer>(recorder, 'next', session, '', more);
    const { action } = looked.answer;
    newest = { ...looked, given: before && action && isSame(before, action) ? before : action };
    return newest;
}

export function useAdvice(session: string, aim: Aim): Advice {
    const recorder = useRecorder();
    const { objective, target_kg } = aim;
    const asked = useMemo(() => ({ objective, ...(target_kg !== undefined && { target_kg }) }), [session, objective, target_kg]);
    const isOf = ({ answer }: Advised) => answer.session.id === session;
    const looking = useLooking(asked, (one) => advise(recorder, session, one), KEY, isOf);
    return { ...looking, looked: newest && isOf(newest) ? newest : looking.looked };
}
