// Which screen stands where: the one list of screens, and the one place that draws them. A screen that is not in the list
// has no tab and no way to it.
import { useEffect, useState } from 'preact/hooks';
import { BankScreen } from './bank/bank';
import { Frame, type Tab } from './frame';
import { Home, ThisDevice, type Job } from './home';
import { Quick } from './quick';
import { RecorderContext, useRecorder } from './record/hooks';
import { Recorder } from './record/record';
import { RestScreen } from './rest';
import { useRoute } from './route';
import { START, loadSetup, type Setup } from './setup';
import { StartScreen } from './start';

/** Tabs at the water, in a session. */
const TABS: readonly Tab[] = [
    { route: 'bank', word: 'Bank' },
    { route: 'rest', word: 'Rest' },
];
const JOBS: readonly Job[] = [
    { route: 'start', word: 'Start at the peg', below: 'Log what happens, with one press each' },
    { route: 'pot', word: 'In the pot', below: 'How many pieces, how long they sink, how wide they lie' },
];

function Screens() {
    const recorder = useRecorder();
    const [setup, setSetup] = useState<Setup>(START);
    const isLive = recorder.live !== undefined;
    const route = useRoute(isLive);
    useEffect(() => void loadSetup(recorder).then(setSetup), [recorder]);

    if (isLive && route === 'bank') return <BankScreen setup={setup} tabs={TABS} />;
    if (isLive && route === 'rest') return <RestScreen />;
    if (route === 'pot')
        return (
            <Frame title="In the pot" below="From pot to bottom" shown="pot" tabs={isLive ? TABS : []}>
                <Quick />
                <ThisDevice />
            </Frame>
        );
    if (route === 'start') return <StartScreen setup={setup} onSetup={setSetup} />;
    return <Home jobs={JOBS} />;
}

export function App() {
    const [recorder, setRecorder] = useState<Recorder>();
    useEffect(() => void Recorder.start().then(setRecorder), []);
    return (
        recorder && (
            <RecorderContext.Provider value={recorder}>
                <Screens />
            </RecorderContext.Provider>
        )
    );
}
