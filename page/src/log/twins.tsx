// Two devices may have entered one fish: entries of the same kind and place within 30 s of each other are listed, and made
// one only by a press. That they are two is remembered on this device.
import { useEffect, useState } from 'preact/hooks';
import type { Bank } from '../record/answers';
import { useRecorder } from '../record/hooks';
import type { Recorder } from '../record/record';

type Twin = Bank['same_fish'][number];
const KEY = 'twins'; // pairs that were said to be two

/** The pairs that are still to be looked at, and how to settle one. */
export function useTwins(recorder: Recorder, session: string, all: readonly Twin[]) {
    const [two, setTwo] = useState<string[]>(); // undefined until it is known: none is asked about that was settled
    useEffect(() => {
        recorder.store.meta<string[]>(KEY).then(
            (kept) => setTwo(kept ?? []),
            () => setTwo([]), // asked again next time
        );
    }, [recorder]);
    const name = ({ a, b }: Twin) => `${a} ${b}`;
    return {
        open: two ? all.filter((twin) => !two.includes(name(twin))) : [],
        /** One fish: the later entry is crossed out. */
        one: (twin: Twin) => recorder.cross(twin.b, session),
        two: (twin: Twin) => {
            const next = [...(two ?? []), name(twin)];
            setTwo(next);
            recorder.store.setMeta(KEY, next).catch(() => undefined); // asked again next time
        },
    };
}

export function Twins({ session, twins, onSaid }: { session: string; twins: readonly Twin[]; onSaid: (words: string) => void }) {
    const recorder = useRecorder();
    const { open, one, two } = useTwins(recorder, session, twins);
    if (open.length === 0) return null;
    return (
        <section class="twins" aria-label="Same fish?">
            <h2>Same fish?</h2>
            <ul class="rows">
                {open.map((twin) => (
                    <li key={`${twin.a} ${twin.b}`}>
                        <span class="what">{twin.text}</span>
                        <span class="twin-acts">
                            <button
                                type="button"
                                onClick={() =>
                                    void one(twin).stored.then(() => onSaid('One fish: the later entry is crossed out.'))
                                }
                            >
                                one fish
                            </button>
                            <button type="button" onClick={() => two(twin)}>
                                they are two
                            </button>
                        </span>
                    </li>
                ))}
            </ul>
        </section>
    );
}
