// Which screen stands where: the one list of screens, and the one place that draws them. A screen that is not in the list
// has no tab and no way to it.
import { useEffect, useState } from 'preact/hooks';
import { BankScreen } from './bank/bank';
import { BedScreen } from './bed/bed';
import { TypeUpScreen } from './card/typeup';
import { CopiesScreen } from './copies/copies';
import { First, isStranger, setBegun } from './first/first';
import { InventedScreen } from './first/invented';
import { Frame, type Tab } from './frame';
import { Home, ThisDevice, type Job } from './home';
import { LogScreen } from './log/log';
import { loadAdvice } from './next/advice';
import { loadRig } from './next/advised';
import { NextScreen } from './next/next';
import { holdBuild } from './offline';
import { loadCarried } from './peg/carried';
import { PegScreen } from './peg/peg';
import { CardScreen } from './plan/card';
import { PlanScreen } from './plan/screen';
import { Quick } from './quick';
import { RecorderContext, useRecorder } from './record/hooks';
import { Recorder } from './record/record';
import { RehearseScreen } from './rehearse/rehearse';
import { RestScreen } from './rest';
import { ReviewScreen } from './review/review';
import { useRoute } from './route';
import { loadSetup, type Setup } from './setup';
import { StartScreen } from './start';

/** Tabs at the water, in a session. */
const TABS: readonly Tab[] = [
    { route: 'bank', word: 'Bank' },
    { route: 'bed', word: 'Bed' },
    { route: 'log', word: 'Log' },
    { route: 'review', word: 'Review' },
    { route: 'rest', word: 'Rest' },
];
/** Tabs of looking back, with no session open. */
const BACK_TABS: readonly Tab[] = [
    { route: '', word: 'Home' },
    { route: 'review', word: 'Review' },
    { route: 'log', word: 'Log' },
    { route: 'copies', word: 'Copies' },
];
/** Tabs of the evening before and the morning. */
const PLAN_TABS: readonly Tab[] = [
    { route: '', word: 'Home' },
    { route: 'plan', word: 'Plan' },
    { route: 'card', word: 'Card' },
    { route: 'peg', word: 'Peg' },
];
const JOBS: readonly Job[] = [
    { route: 'plan', word: 'Plan tomorrow', below: 'Rig, feed and aim; the card for the day' },
    { route: 'peg', word: 'At the peg', below: 'Depths and wind in; spot, rig and first half hour out' },
    { route: 'start', word: 'Start at the peg', below: 'Log what happens, with one press each' },
    { route: 'rehearse', word: 'Rehearse', below: 'Simulated water: try feeding out, see what it costs' },
    { route: 'review', word: 'Look back', below: 'What came of it, one day or all of them' },
    { route: 'copies', word: 'Copies', below: 'Ready for the bank? A copy out, another phone\u2019s log in' },
    { route: 'pot', word: 'In the pot', below: 'How many pieces, how long they sink, how wide they lie' },
];

function Screens({ kept }: { kept: Setup }) {
    const recorder = useRecorder();
    const [setup, setSetup] = useState(kept);
    const isLive = recorder.live !== undefined;
    const route = useRoute(isLive);
    useEffect(() => {
        if (!recorder.keeping.fault) void holdBuild(isLive); // else it is not known
    }, [isLive]);
    const [isFirst, setIsFirst] = useState(() => isStranger(recorder));
    useEffect(() => {
        if (isFirst && route === '') return;
        setBegun();
        setIsFirst(false);
    }, [isFirst, route]);

    if (isLive && route === 'bank') return <BankScreen setup={setup} tabs={TABS} />;
    if (recorder.live && route === 'bed') return <BedScreen session={recorder.live} tabs={TABS} />;
    if (recorder.live && route === 'next')
        return <NextScreen session={recorder.live} setup={setup} onSetup={setSetup} tabs={TABS} />;
    if (isLive && route === 'rest') return <RestScreen />;
    const back = isLive ? TABS : BACK_TABS;
    if (route === 'log') return <LogScreen setup={setup} tabs={back} />;
    if (route === 'typeup') return <TypeUpScreen setup={setup} tabs={back} />;
    if (route === 'copies') return <CopiesScreen tabs={back} />;
    if (route === 'review') return <ReviewScreen tabs={back} />;
    if (route === 'pot')
        return (
            <Frame title="In the pot" below="From pot to bottom" shown="pot" tabs={isLive ? TABS : []}>
                <Quick />
                <ThisDevice />
            </Frame>
        );
    const planTabs = isLive ? TABS : PLAN_TABS;
    if (route === 'plan') return <PlanScreen tabs={planTabs} />;
    if (route === 'card') return <CardScreen tabs={planTabs} />;
    if (route === 'peg') return <PegScreen tabs={PLAN_TABS} />;
    if (route === 'rehearse') return <RehearseScreen setup={setup} />;
    if (route === 'start') return <StartScreen setup={setup} onSetup={setSetup} />;
    if (route === 'invented') return <InventedScreen />;
    if (isFirst)
        return (
            <First
                onBait={({ bait, pot }) => setSetup({ ...setup, bait, pot })}
                onHome={() => setIsFirst(false)}
            />
        );
    return <Home jobs={JOBS} />;
}

/** The record, and what was set up and carried: all that the Bank offers is right at its first look. */
async function begin() {
    const recorder = await Recorder.start();
    const [setup] = await Promise.all([
        loadSetup(recorder),
        loadCarried(recorder),
        loadAdvice(recorder),
        loadRig(recorder),
    ]);
    return { recorder, setup };
}

export function App() {
    const [begun, setBegun] = useState<Awaited<ReturnType<typeof begin>>>();
    useEffect(() => void begin().then(setBegun), []);
    return (
        begun && (
            <RecorderContext.Provider value={begun.recorder}>
                <Screens kept={begun.setup} />
            </RecorderContext.Provider>
        )
    );
}
