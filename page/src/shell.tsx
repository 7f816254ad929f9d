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
import { Home, ThisDevice, type Jobs } from './home';
import { KitScreen } from './kit/screen';
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
import { SeasonScreen } from './season/season';
import { SettingsScreen } from './settings/settings';
import { loadSetup, saveSetup, type Setup } from './setup';
import { StartScreen } from './start';
import { TrialScreen } from './trial/trial';

/** Tabs at the water, in a session. */
const TABS: readonly Tab[] = [
    { route: 'bank', word: 'Bank' },
    { route: 'bed', word: 'Bed' },
    { route: 'log', word: 'Log' },
    { route: 'review', word: 'Review' },
    { route: 'rest', word: 'Rest' },
];
/** Tabs at home. */
const HOME_TABS: readonly Tab[] = [
    { route: '', word: 'Home' },
    { route: 'plan', word: 'Plan' },
    { route: 'card', word: 'Card' },
    { route: 'review', word: 'Review' },
    { route: 'copies', word: 'Copies' },
];
const GROUPS: readonly Jobs[] = [
    {
        when: 'The evening before',
        jobs: [
            { route: 'plan', word: 'Plan tomorrow', below: 'Rig, feed and aim; the card for the day' },
            { route: 'kit', word: 'Kit', below: 'Your baits, pots and rigs, measured at home' },
            { route: 'pot', word: 'In the pot', below: 'How many pieces, how long they sink, how wide they lie' },
        ],
    },
    {
        when: 'At the water',
        jobs: [
            { route: 'peg', word: 'At the peg', below: 'With your plan: depths and wind in; spot, rig and first half hour out' },
            { route: 'start', word: 'Start at the peg', below: 'Without a plan: log what happens, with one press each' },
        ],
    },
    {
        when: 'Afterwards',
        jobs: [
            { route: 'review', word: 'Look back', below: 'What came of it, one day or all of them' },
            { route: 'season', word: 'Season', below: 'What went with more fish, over all sessions' },
            { route: 'trial', word: 'Trial', below: 'Two feeds, by turns drawn by lot' },
            { route: 'copies', word: 'Copies', below: 'Ready for the bank? A copy out, another phone\u2019s log in' },
        ],
    },
    {
        when: 'To practise, and this device',
        jobs: [
            { route: 'rehearse', word: 'Rehearse', below: 'Simulated water: try feeding out, see what it costs' },
            { route: 'invented', word: 'An invented day', below: 'What a session looks like afterwards' },
            { route: 'settings', word: 'Settings', below: 'Left or right hand, units, keys, screen' },
        ],
    },
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
    const tabs = isLive ? TABS : HOME_TABS;
    if (route === 'log') return <LogScreen setup={setup} tabs={tabs} />;
    if (route === 'typeup') return <TypeUpScreen setup={setup} tabs={tabs} />;
    if (route === 'copies') return <CopiesScreen tabs={tabs} />;
    if (route === 'review') return <ReviewScreen tabs={tabs} />;
    if (route === 'pot')
        return (
            <Frame title="In the pot" below="From pot to bottom" shown="pot" tabs={isLive ? TABS : []}>
                <Quick />
                <ThisDevice />
            </Frame>
        );
    if (route === 'plan') return <PlanScreen tabs={tabs} />;
    if (route === 'card') return <CardScreen tabs={tabs} />;
    if (route === 'peg') return <PegScreen tabs={HOME_TABS} />;
    if (route === 'rehearse') return <RehearseScreen setup={setup} />;
    if (route === 'start') return <StartScreen setup={setup} onSetup={setSetup} />;
    if (route === 'settings') return <SettingsScreen setup={setup} onSetup={setSetup} tabs={tabs} />;
    if (route === 'season') return <SeasonScreen tabs={tabs} />;
    if (route === 'trial') return <TrialScreen tabs={tabs} />;
    if (route === 'kit') return <KitScreen tabs={tabs} />;
    if (route === 'invented') return <InventedScreen />;
    if (isFirst)
        return (
            <First
                onBait={({ bait, pot }) => {
                    const told = { ...setup, bait, pot };
                    setSetup(told);
                    saveSetup(recorder, told).catch(() => undefined); // the bar "NOT SAVED" tells why
                }}
                onHome={() => setIsFirst(false)}
            />
        );
    return <Home groups={GROUPS} />;
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
