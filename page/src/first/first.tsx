// What a stranger sees first: three things asked and answered at once, then three ways on. Once one of them was taken, or
// anything was entered, the first look is Home.
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Choice } from '../choice';
import { Frame } from '../frame';
import { RecordFault } from '../home';
import { planOf } from '../plan/keep';
import { Quick } from '../quick';
import { useRecorder } from '../record/hooks';
import type { Recorder } from '../record/record';
import { go, type Route } from '../route';

const KEY = 'baitfall.begun';

export const setBegun = (): void => localStorage.setItem(KEY, 'yes');
export const wasBegun = (): boolean => localStorage.getItem(KEY) !== null;
export const isStranger = (recorder: Recorder): boolean => !wasBegun() && !recorder.bank?.session;

interface FirstProps {
    onBait: (choice: Choice) => void; // what the session puts in
    onAnswered: () => void; // all that was asked stands there
    onHome: () => void;
    children: ComponentChildren; // what else is to be said first
}

export function First({ onBait, onAnswered, onHome, children }: FirstProps) {
    const recorder = useRecorder();
    const [isKeeping, setIsKeeping] = useState(false);
    const keep = (choice: Choice) => {
        if (isKeeping) return;
        setIsKeeping(true);
        onBait(choice);
        const plan = () => go('plan'); // without a store too: it begins with what was told here
        planOf(recorder, choice).then(plan, plan);
    };
    const start = (choice: Choice) => {
        onBait(choice);
        go('start');
    };
    const way = (route: Route, word: string, below: string, act: () => void) => (
        <a
            href={`#${route}`}
            onClick={(event) => {
                event.preventDefault();
                act();
            }}
        >
            <b>{word}</b>
            <span>{below}</span>
        </a>
    );
    return (
        <Frame title="Baitfall" below="Pot, depth, water: answered at once" shown="" tabs={[]}>
            <RecordFault />
            {children}
            <Quick
                onAnswered={onAnswered}
                waysOn={(choice) => (
                    <nav class="jobs three-ways" aria-label="Three ways on">
                        {way('plan', 'Keep as tomorrow\u2019s plan', 'With rig, aim and a card for the box', () => keep(choice))}
                        {way('start', 'Start at the peg', 'Log what happens, with one press each', () => start(choice))}
                        {way('invented', 'See an invented day', 'What a session looks like afterwards', () => go('invented'))}
                        <button type="button" onClick={onHome}>
                            Everything else
                        </button>
                    </nav>
                )}
            />
        </Frame>
    );
}
