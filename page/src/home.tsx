// The first look: which job? With a session open it is never shown; the Bank comes at once.
import { useEffect, useState } from 'preact/hooks';
import { Frame, follow } from './frame';
import { InstallButton } from './install';
import { startOffline } from './offline';
import { useRecorder } from './record/hooks';
import type { Route } from './route';

export interface Job {
    route: Route;
    word: string;
    below: string;
}
/** Jobs of one time of the day. */
export interface Jobs {
    when: string;
    jobs: readonly Job[];
}

export function ThisDevice() {
    const [words, setWords] = useState('Ready offline: looking.');
    useEffect(() => void startOffline().then(setWords), []);
    return (
        <section class="device">
            <h2>On this device</h2>
            <p class="note aside">{words}</p>
            <InstallButton />
        </section>
    );
}

/** Said on the first screens when the record did not open. */
export function RecordFault() {
    const { fault, keeping } = useRecorder();
    if (!fault && !keeping.fault) return null;
    return (
        <p class="caution" role="alert">
            <b>The record did not open.</b> {fault || keeping.fault}
        </p>
    );
}

export function Home({ groups }: { groups: readonly Jobs[] }) {
    return (
        <Frame title="Baitfall" below="Feed, bites and fish" shown="" tabs={[]}>
            <RecordFault />
            <div class="groups">
                {groups.map(({ when, jobs }) => (
                    <section key={when}>
                        <h2>{when}</h2>
                        <nav class="jobs" aria-label={when}>
                            {jobs.map(({ route, word, below }) => (
                                <a key={route} href={`#${route}`} onClick={(event) => follow(event, route)}>
                                    <b>{word}</b>
                                    <span>{below}</span>
                                </a>
                            ))}
                        </nav>
                    </section>
                ))}
            </div>
            <ThisDevice />
        </Frame>
    );
}
