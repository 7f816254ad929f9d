// Where a rehearsal begins: an invented peg, a plan, or a real session from some time on.
import { useEffect, useState } from 'preact/hooks';
import { Chips } from '../chips';
import { Waits } from '../frame';
import { OpenFile } from '../openfile';
import { loadPlans } from '../plan/keep';
import type { Plan } from '../plan/plan';
import { eventOf, instant } from '../record/line';
import { useRecorder } from '../record/hooks';
import { dayWords, placeWords, sessionsOf, type Named } from '../review/sessions';
import { Stepper } from '../stepper';
import { readRehearsal, shortName, takeWanted, type Playing, type Rehearsal } from './rehearsal';

const MINUTE_MS = 60_000;
const STEP_MS = 15 * MINUTE_MS;
const HOURS = { least: 1, most: 12, start: 3 };

type From = 'new' | 'plan' | 'session';

const fresh = (setup: Record<string, unknown>, seed: number, name?: string): Rehearsal => ({
    rehearsal: 1,
    ...(name && { name: shortName(name) }),
    setup,
    seed,
    choices: [],
    until_s: 0,
});

export function Begin({ playing }: { playing: Playing }) {
    const recorder = useRecorder();
    const [wanted] = useState(takeWanted);
    const [from, setFrom] = useState<From>(wanted ? 'session' : 'new');
    const [plans, setPlans] = useState<Plan[]>([]);
    const [planName, setPlanName] = useState('');
    const [sessions, setSessions] = useState<Named[]>([]);
    const [session, setSession] = useState(wanted ?? '');
    const [atMs, setAtMs] = useState<number>(); // not chosen yet: the middle
    const [seed, setSeed] = useState(1);
    const [hours, setHours] = useState(HOURS.start);
    const [isKnown, setIsKnown] = useState(false); // which plans and sessions there are
    const [fault, setFault] = useState('');
    const [isBeginning, setIsBeginning] = useState(false);
    useEffect(() => {
        const failed = (reason: Error) => setFault(reason.message);
        const asked = [
            loadPlans(recorder).then(setPlans, failed),
            sessionsOf(recorder).then((all) => setSessions(all.filter(({ opened }) => opened !== null)), failed),
        ];
        void Promise.all(asked).then(() => setIsKnown(true));
    }, [recorder]);

    const plan = plans.find((one) => one.name === planName) ?? plans[0];
    const real = sessions.find(({ id }) => id === session) ?? sessions[0];
    const openedMs = Date.parse(real?.opened ?? '');
    const closedMs = real?.closed ? Date.parse(real.closed) : Date.now();
    const middleMs = Math.round((openedMs + closedMs) / 2 / STEP_MS) * STEP_MS;
    const fromMs = Math.min(Math.max(atMs ?? middleMs, openedMs), closedMs);

    const setupOf = async (): Promise<Rehearsal> => {
        if (from === 'plan' && plan) return fresh({ plan, hours }, seed, plan.name);
        if (from !== 'session' || !real) return fresh({ hours }, seed);
        const lines = await recorder.everything();
        const name = lines.map(eventOf).find(({ id }) => id === real.id)?.body['plan'];
        const fishedTo: Plan | undefined = plans.find((one) => one.name === name);
        const asked = { session: real.id, at: instant(fromMs), ...(fishedTo && { plan: fishedTo }) };
        const setup = await playing.player.from(lines, { setup: asked, seed });
        return fresh(setup, seed, `${placeWords(real)}, ${dayWords(real.opened ?? '')}`);
    };
    const doing = (act: () => Promise<Rehearsal>) => {
        setFault('');
        setIsBeginning(true);
        act()
            .then(playing.open, (reason: Error) => setFault(reason.message))
            .finally(() => setIsBeginning(false));
    };
    const openFile = (file: File | undefined) =>
        file &&
        doing(async () => {
            try {
                return readRehearsal(await file.text());
            } catch (reason) {
                throw new Error(`${file.name} could not be opened: ${(reason as Error).message}`);
            }
        });
    const kinds: [From, string][] = [
        ['new', 'An invented peg'],
        ...(plans.length > 0 ? ([['plan', 'A plan']] as [From, string][]) : []),
        ...(sessions.length > 0 ? ([['session', 'A real session']] as [From, string][]) : []),
    ];
    return (
        <section class="begin" aria-label="Begin">
            {!isKnown && !fault && <Waits />}
            <p class="lead">A day on simulated water, to try things out. No fish were there, and nothing of it goes into your log.</p>
            <p class="note">
                You choose what to feed and where to fish; touches, bites and fish come of the program’s own model of a swim. At the
                end it shows what was really there, and what each decision cost.
            </p>
            <div class="field wide">
                <span class="name">Start from</span>
                <Chips label="Start from" choices={kinds} chosen={from} onChoose={(word) => setFrom(word as From)} />
            </div>
            {from === 'plan' && plans.length > 1 && (
                <label class="text">
                    <span class="name">Plan</span>
                    <select value={plan?.name} onChange={(event) => setPlanName(event.currentTarget.value)}>
                        {plans.map((one) => (
                            <option key={one.name}>{one.name}</option>
                        ))}
                    </select>
                </label>
            )}
            {from === 'session' && real && (
                <>
                    <label class="text">
                        <span class="name">Session</span>
                        <select value={real.id} onChange={(event) => {
                                setSession(event.currentTarget.value);
                                setAtMs(undefined);
                            }}>
                            {sessions.map((one) => (
                                <option key={one.id} value={one.id}>
                                    {dayWords(one.opened ?? '')}: {placeWords(one)}
                                </option>
                            ))}
                        </select>
                    </label>
                    <Stepper
                        name="Your turn from"
                        less="Earlier"
                        more="Later"
                        isLeast={fromMs <= openedMs}
                        isMost={fromMs >= closedMs}
                        onStep={(by) => setAtMs(Math.min(Math.max(fromMs + by * STEP_MS, openedMs), closedMs))}
                    >
                        {instant(fromMs).slice(11, 16)}
                    </Stepper>
                </>
            )}
            <Stepper
                name="Day"
                less="Day before"
                more="Day after"
                isLeast={seed <= 1}
                onStep={(by) => setSeed(Math.max(1, seed + by))}
                below={<span class="note soft">The same day and the same choices: the same fish.</span>}
            >
                {seed}
            </Stepper>
            {from !== 'session' && (
                <Stepper
                    name="Hours"
                    less="Fewer hours"
                    more="More hours"
                    isLeast={hours <= HOURS.least}
                    isMost={hours >= HOURS.most}
                    onStep={(by) => setHours(Math.min(Math.max(hours + by, HOURS.least), HOURS.most))}
                >
                    {hours}
                </Stepper>
            )}
            {(fault || playing.fault) && (
                <p class="caution" role="alert">
                    <b>It did not begin.</b> {fault || playing.fault}
                </p>
            )}
            <div class="acts">
                <button type="button" class="main-act" disabled={isBeginning} onClick={() => doing(setupOf)}>
                    {isBeginning ? 'Working' : 'Begin'}
                </button>
                <OpenFile words="Open a file" label="The rehearsal file" accept=".json" onFile={openFile} />
            </div>
        </section>
    );
}
