// What opens: three things asked of a stranger, else the screen that the address names. The first opening is small; the script of
// all other screens is fetched once its answer stands, or at once where somebody has been here before.
import { useEffect, useState } from 'preact/hooks';
import { First, isStranger, setBegun, wasBegun } from './first/first';
import { Frame } from './frame';
import { RecorderContext, useRecorder } from './record/hooks';
import { Recorder } from './record/record';
import { routeNow, useRoute } from './route';
import { loadSetup, saveSetup, type Setup } from './setup';

const fetchOthers = () => import('./screens');
type Others = Awaited<ReturnType<typeof fetchOthers>>;

/** The other screens, ready to be looked at. */
async function othersOf(recorder: Recorder, fetched = fetchOthers()): Promise<Others> {
    const [others] = await Promise.all([fetched, fetched.then(({ ready }) => ready(recorder))]);
    return others;
}

interface Begun {
    recorder: Recorder;
    setup: Setup;
    others: Others | undefined; // undefined: the first opening goes before them
}

async function begin(): Promise<Begun> {
    const fetched = wasBegun() || routeNow() !== '' ? fetchOthers() : undefined;
    const recorder = await Recorder.start();
    const isFirst = !fetched && isStranger(recorder);
    const [setup, others] = await Promise.all([loadSetup(recorder), isFirst ? undefined : othersOf(recorder, fetched)]);
    return { recorder, setup, others };
}

const NotFetched = () => (
    <p class="caution" role="alert">
        <b>The other screens did not load.</b> Open the page once more, with a connection.
    </p>
);

function Opened({ begun }: { begun: Begun }) {
    const recorder = useRecorder();
    const [setup, setSetup] = useState(begun.setup);
    const route = useRoute(recorder.live !== undefined);
    const [isFirst, setIsFirst] = useState(() => isStranger(recorder));
    const [others, setOthers] = useState(begun.others);
    const [isLost, setIsLost] = useState(false);
    const isAtFirst = isFirst && route === '';
    const fetchRest = () => {
        othersOf(recorder).then(setOthers, () => setIsLost(true));
        void recorder.refresh(); // its worker is there when it is needed
    };
    useEffect(() => {
        if (isAtFirst) return;
        setBegun();
        setIsFirst(false);
        if (!others || !recorder.bank) fetchRest();
    }, [isAtFirst]);

    if (others && !isAtFirst) return <others.Screens route={route} setup={setup} onSetup={setSetup} />;
    return (
        <First
            onBait={({ bait, pot }) => {
                const told = { ...setup, bait, pot };
                setSetup(told);
                saveSetup(recorder, told).catch(() => undefined); // the bar "NOT SAVED" tells why
            }}
            onAnswered={fetchRest}
            onHome={() => setIsFirst(false)}
        >
            {isLost && <NotFetched />}
        </First>
    );
}

export function App() {
    const [begun, setBegun] = useState<Begun>();
    const [isLost, setIsLost] = useState(false);
    useEffect(() => void begin().then(setBegun, () => setIsLost(true)), []);
    if (isLost)
        return (
            <Frame title="Baitfall" below="" shown="" tabs={[]}>
                <NotFetched />
            </Frame>
        );
    return (
        begun && (
            <RecorderContext.Provider value={begun.recorder}>
                <Opened begun={begun} />
            </RecorderContext.Provider>
        )
    );
}
