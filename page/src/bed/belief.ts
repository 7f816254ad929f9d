// The belief about the bed, kept in step with the journal. It is worked out in a worker of its own, and only while it is looked
// at: after each entry, and once a minute. Meanwhile the older answer stands, with the time it was looked at; it is kept, so
// that it stands there at once when the page is opened again.
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { Desk } from '../desk';
import { useLook, type Look } from '../look';
import { useNewest } from '../newest';
import { loadSaved } from '../plan/keep';
import { answerIn } from '../questions';
import { useRecorder } from '../record/hooks';
import { eventOf, instant } from '../record/line';
import type { Recorder } from '../record/record';
import type { BedAnswer } from './answers';

declare const BELIEF_WORKER: string;

const AGAIN_MS = 60_000;
/** After the last look the worker stays as long: someone who looks in again need not wait. */
const STAYS_MS = 120_000;
const KEY = 'bed';
export const PICTURES = ['left', 'fish', 'above'] as const;

export interface Looked {
    answer: BedAnswer;
    from_s: number; // the instant of the session that it was worked out from
}
type BeliefDesk = Desk<{ lines: string[] } | { request: object; spot: string }, { answer: string; from_s: number }>;

/** The worker, and which lines it has. */
let desk: { own: BeliefDesk; sent: Set<string> } | undefined;
let nLooking = 0;
let leaving: ReturnType<typeof setTimeout> | undefined;

/** Keeps the worker while a component looks. */
function useDesk(): void {
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

/** What is asked about: a new one whenever the answer may be another. */
interface Asked {
    session: string;
    spot: string; // '': the one fished last
    look: Look;
}

const eventsOf = (lines: string[], session: string) => lines.map(eventOf).filter((event) => event.session === session);

async function believe(recorder: Recorder, { session, spot, look }: Asked): Promise<Looked> {
    const lines = await recorder.everything(); // earlier sessions tell something too
    // the plan that it began with, if it is saved here
    const name = eventsOf(lines, session).find(({ kind }) => kind === 'open')?.body['plan'];
    const plan = name !== undefined && (await loadSaved(recorder)).find((saved) => saved.plan.name === name)?.plan;
    desk ??= { own: new Desk(BELIEF_WORKER), sent: new Set() };
    const { own, sent } = desk;
    const fresh = lines.filter((line) => !sent.has(line));
    fresh.forEach((line) => sent.add(line));
    if (fresh.length > 0) await own.ask({ lines: fresh });
    const request = {
        session,
        now: instant(recorder.now()),
        ...(spot && { spot }),
        ...(plan && { plan }),
        pictures: PICTURES,
        look,
    };
    const { answer, from_s } = await own.ask({ request, spot });
    const looked = { answer: answerIn<BedAnswer>(answer), from_s };
    recorder.store.setMeta(KEY, looked).catch(() => undefined); // it is worked out again
    return looked;
}

export interface Belief {
    looked: Looked | undefined; // the newest there is of this spot
    isReady: boolean; // whether an older answer is kept is known
    isWorking: boolean;
    fault: string;
}

/** The spots that the session speaks of, in order of their first mention; undefined until they are known. */
export function useSpots(session: string): string[] | undefined {
    const recorder = useRecorder();
    const [spots, setSpots] = useState<string[]>();
    useEffect(() => {
        recorder.everything().then(
            (lines) => {
                const named = eventsOf(lines, session).map(({ body }) => body['spot']);
                setSpots([...new Set(named.filter((spot) => typeof spot === 'string'))]);
            },
            () => setSpots([]), // the bar "NOT SAVED" tells why
        );
    }, [recorder, session, recorder.version]);
    return spots;
}

/** @param spot  '': the one fished last */
export function useBelief(session: string, spot: string): Belief {
    const recorder = useRecorder();
    const { look } = useLook();
    const [nAgain, setAgain] = useState(0);
    const [kept, setKept] = useState<{ looked?: Looked }>();
    useDesk();
    useEffect(() => {
        recorder.store.meta<Looked>(KEY).then(
            (looked) => setKept(looked ? { looked } : {}),
            () => setKept({}), // the bar "NOT SAVED" tells why
        );
    }, [recorder]);

    const asked = useMemo(() => ({ session, spot, look }), [session, spot, look, recorder.version, nAgain]);
    const newest = useNewest(asked, (one: Asked) => believe(recorder, one));
    const isWorking = newest?.of !== asked;
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

    const last = useRef<Looked>();
    last.current = newest?.answer ?? last.current;
    const isOf = ({ answer }: Looked) => answer.session.id === session && (spot === '' || answer.spot === spot);
    const looked = [last.current, kept?.looked].find((one) => one !== undefined && isOf(one));
    return { looked, isReady: kept !== undefined, isWorking, fault: newest?.fault ?? '' };
}
