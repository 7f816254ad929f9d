// What is worked out from the belief, for the screens: in a worker of its own, and only while somebody looks; after each entry,
// and once a minute. Meanwhile the older answer stands, with the time it was looked at; it is kept, so that it stands there at
// once when the page is opened again. Nothing that is entered waits for it.
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { Desk } from './desk';
import { kitMember, loadKit, type Kit } from './kit/kit';
import { useNewest } from './newest';
import { loadPlans } from './plan/keep';
import { answerIn } from './questions';
import { useRecorder } from './record/hooks';
import { eventOf, instant, type RecordEvent } from './record/line';
import type { Recorder } from './record/record';

declare const BELIEF_WORKER: string;

const AGAIN_MS = 60_000;
/** After the last look the worker stays as long: someone who looks in again need not wait. */
const STAYS_MS = 120_000;

export interface Looked<Answer> {
    answer: Answer;
    from_s: number; // the instant of the session that it was worked out from
}
type Message =
    | { lines: string[] }
    | { question: string; request: object; spot: string }
    | { lessons: true }
    | { lesson: string; kit?: Kit };
interface Told {
    answer: string;
    from_s: number;
    sessions: string[];
    summary?: unknown;
}

/** The worker, and which lines it has. */
let desk: { own: Desk<Message, Told>; sent: Set<string> } | undefined;
let nLooking = 0;
let leaving: ReturnType<typeof setTimeout> | undefined;

/** Keeps the worker while a component looks. */
export function useDesk(): void {
    useEffect(() => {
        nLooking++;
        clearTimeout(leaving);
        return () => {
            nLooking--;
            leaving = setTimeout(() => {
                if (nLooking > 0) return;
                desk?.own.end();
                desk = undefined;
            }, STAYS_MS);
        };
    }, []);
}

export const eventsOf = (lines: readonly string[], session: string): RecordEvent[] =>
    lines.map(eventOf).filter((event) => event.session === session);

/** The worker, told of all these lines. */
async function toldOf(lines: readonly string[]): Promise<Desk<Message, Told>> {
    if (desk?.own.isDead) desk = undefined;
    desk ??= { own: new Desk(BELIEF_WORKER), sent: new Set() };
    const { own, sent } = desk;
    const fresh = lines.filter((line) => !sent.has(line));
    fresh.forEach((line) => sent.add(line));
    if (fresh.length > 0) await own.ask({ lines: fresh });
    return own;
}

/** What the sessions of the record told, newest first.
 * @param begun  is told before each how many are worked out, and of how many. False: no more is needed */
export async function lessons(recorder: Recorder, begun: (nDone: number, nSessions: number) => boolean): Promise<unknown[]> {
    const own = await toldOf(await recorder.everything());
    const { sessions } = await own.ask({ lessons: true });
    const kit = kitMember(await loadKit(recorder));
    const summaries: unknown[] = [];
    for (const session of sessions) {
        if (!begun(summaries.length, sessions.length)) break;
        summaries.push((await own.ask({ lesson: session, ...kit })).summary);
    }
    return summaries.filter(Boolean);
}

/** Asks the worker about all that is stored, after what earlier sessions told.
 * @param spot  '': the one fished last */
export async function believe<Answer>(
    recorder: Recorder,
    question: 'bed' | 'next',
    session: string,
    spot: string,
    more: object,
): Promise<Looked<Answer>> {
    const lines = await recorder.everything();
    // the plan that it began with, if it is here
    const name = eventsOf(lines, session).find(({ kind }) => kind === 'open')?.body['plan'];
    const plan = name !== undefined && (await loadPlans(recorder)).find((plan) => plan.name === name);
    const own = await toldOf(lines);
    const now = instant(recorder.now());
    const kit = kitMember(await loadKit(recorder));
    const request = { session, now, ...(spot && { spot }), ...(plan && { plan }), ...kit, ...more };
    const { answer, from_s } = await own.ask({ question, request, spot });
    return { answer: answerIn<Answer>(answer), from_s };
}

export interface Looking<L> {
    looked: L | undefined; // the newest there is
    isReady: boolean; // whether an older answer is kept is known
    isWorking: boolean;
    fault: string;
}

/** @param asked     a new one whenever the answer may be another
 * @param key        under which the last answer is kept
 * @param isOf       whether an older answer is about what is asked */
export function useLooking<Asked extends object, L extends object>(
    asked: Asked,
    answerTo: (asked: Asked) => Promise<L>,
    key: string,
    isOf: (looked: L) => boolean,
): Looking<L> {
    const recorder = useRecorder();
    const [nAgain, setAgain] = useState(0);
    const [kept, setKept] = useState<{ looked?: L }>();
    useDesk();
    useEffect(() => {
        recorder.store.meta<L>(key).then(
            (looked) => setKept(looked ? { looked } : {}),
            () => setKept({}), // the bar "NOT SAVED" tells why
        );
    }, [recorder]);

    const once = useMemo(() => ({ asked }), [asked, recorder.version, nAgain]);
    const newest = useNewest(once, async (one) => {
        const looked = await answerTo(one.asked);
        recorder.store.setMeta(key, looked).catch(() => undefined); // it is worked out again
        return looked;
    });
    const isWorking = newest?.of !== once;
    useEffect(() => {
        if (isWorking) return undefined;
        const again = () => setAgain((n) => n + 1);
        const seen = () => !document.hidden && again();
        const timer = setTimeout(() => {
            if (document.hidden) document.addEventListener('visibilitychange', seen, { once: true });
            else again();
        }, AGAIN_MS);
        return () => {
            clearTimeout(timer);
            document.removeEventListener('visibilitychange', seen);
        };
    }, [isWorking, newest]);

    const last = useRef<L>();
    last.current = newest?.answer ?? last.current;
    const looked = [last.current, kept?.looked].find((one) => one !== undefined && isOf(one));
    return { looked, isReady: kept !== undefined, isWorking, fault: newest?.fault ?? '' };
}

/** "Last looked 11:42, working." */
export function lookedWords(at: string | undefined, { isWorking, fault }: Omit<Looking<object>, 'looked'>): string {
    const words = at && `Last looked ${at.slice(11, 16)}`;
    if (isWorking) return words ? `${words}, working.` : 'Not looked yet, working.';
    return fault ? `${words ? `${words}. ` : ''}Could not look again.` : `${words}.`;
}
