// What has been put right in an entry, each correction with the way to take it back.
import { useEffect, useState } from 'preact/hooks';
import { useRecorder } from '../record/hooks';
import { clockOf, eventOf, type Kind, type RecordEvent } from '../record/line';
import { sayFix } from './say';

interface Correction {
    event: RecordEvent;
    isCrossed: boolean;
}

const order = (a: RecordEvent, b: RecordEvent) => a.seq - b.seq || (a.dev + a.id < b.dev + b.id ? -1 : 1);

/** The corrections of an entry, newest first; whether each counts is said by the last cross or restore of it. */
function correctionsIn(lines: readonly string[], of: string): Correction[] {
    const about = (id: string) => lines.filter((line) => line.includes(`"of":"${id}"`)).map(eventOf).sort(order);
    return about(of)
        .filter(({ kind }) => kind === 'fix')
        .map((event) => ({ event, isCrossed: about(event.id).at(-1)?.kind === 'cross' }))
        .reverse();
}

export function Corrections({ of, kind, session }: { of: string; kind: Kind; session: string }) {
    const recorder = useRecorder();
    const [corrections, setCorrections] = useState<Correction[]>([]);
    useEffect(() => {
        recorder.everything().then(
            (lines) => setCorrections(correctionsIn(lines, of)),
            () => undefined, // the bar "NOT SAVED" tells why
        );
    }, [recorder, recorder.version, of]);
    if (corrections.length === 0) return null;
    return (
        <section class="corrections">
            <h3>Put right before</h3>
            <ul class="rows">
                {corrections.map(({ event, isCrossed }) => (
                    <li key={event.id} class={isCrossed ? 'crossed' : ''}>
                        <time>{clockOf(event.rec).slice(0, 5)}</time>
                        <span class="what">{sayFix(kind, event.body)}</span>
                        <button
                            type="button"
                            onClick={() =>
                                isCrossed ? recorder.restore(event.id, session) : recorder.cross(event.id, session)
                            }
                        >
                            {isCrossed ? 'put back' : 'cross out'}
                            <span class="hide"> the correction of {clockOf(event.rec)}</span>
                        </button>
                    </li>
                ))}
            </ul>
        </section>
    );
}
