// Which screen stands where: the one list of screens, and the one place that draws them, all but the first opening (shell.tsx).
// A screen that is not in the list has no tab and no way to it.
import { useEffect } from 'preact/hooks';
import { BankScreen } from './bank/bank';
import { BedScreen } from './bed/bed';
import { TypeUpScreen } from './card/typeup';
import { CopiesScreen } from './copies/copies';
import { InventedScreen } from './first/invented';
import { Frame, type Tab } from './frame';
import { Home, type Jobs } from './home';
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
import { useRecorder } from './record/hooks';
import type { Recorder } from './record/record';
import { RehearseScreen } from './rehearse/rehearse';
import { RestScreen } from './rest';
import { ReviewScreen } from './review/review';
import type { Route } from './route';
import { SeasonScreen } from './season/season';
import { SettingsScreen } from './settings/settings';
import type { Setup } from './setup';
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

/** What was carried and advised: all that the Bank offers is right at its first look. */
export const ready = (recorder: Recorder): Promise<unknown> =>
    Promise.all([loadCarried(recorder), loadAdvice(recorder), loadRig(recorder)]);

interface ScreensProps {
    route: Route;
    setup: Setup;
    onSetup: (setup: Setup) => void;
}

export function Screens({ route, setup, onSetup }: ScreensProps) {
    const recorder = useRecorder();
    const isLive = recorder.live !== undefined;
    useEffect(() => {
        if (!recorder.keeping.fault) void holdBuild(isLive); // else it is not known
    }, [isLive]);

    if (isLive && route === 'bank') return <BankScreen setup={setup} tabs={TABS} />;
    if (recorder.live && route === 'bed') return <BedScreen session={recorder.live} tabs={TABS} />;
    if (recorder.live && route === 'next')
        return <NextScreen session={recorder.live} setup={setup} onSetup={onSetup} tabs={TABS} />;
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
            </Frame>
        );
    if (route === 'plan') return <PlanScreen tabs={tabs} />;
    if (route === 'card') return <CardScreen tabs={tabs} />;
    if (route === 'peg') return <PegScreen tabs={HOME_TABS} />;
    if (route === 'rehearse') return <RehearseScreen setup={setup} />;
    if (route === 'start') return <StartScreen setup={setup} onSetup={onSetup} />;
    if (route === 'settings') return <SettingsScreen setup={setup} onSetup={onSetup} tabs={tabs} />;
    if (route === 'season') return <SeasonScreen tabs={tabs} />;
    if (route === 'trial') return <TrialScreen tabs={tabs} />;
    if (route === 'kit') return <KitScreen tabs={tabs} />;
    if (route === 'invented') return <InventedScreen />;
    return <Home groups={GROUPS} />;
}
