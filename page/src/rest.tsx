// The Rest screen: two numbers to glance at for hours. Dark, unless the sun look is worn. One press anywhere opens the
// Bank and enters nothing. Repainted every 5 s at most; the numbers move a little every two minutes, for the panel's sake.
import { useEffect } from 'preact/hooks';
import { useAwake } from './awake';
import { Glance } from './bank/glance';
import { swallow } from './bank/hands';
import { LookButton, useTitle } from './frame';
import { useLook } from './look';
import type { Bank } from './record/answers';
import { useRecorder } from './record/hooks';
import { useSince } from './bank/since';
import { go } from './route';

const LEAST_MS = 5000;
const SHIFT_MS = 120_000;
const SHIFTS = ['', 'shift-1', 'shift-2', 'shift-3'];

export function RestScreen() {
    const recorder = useRecorder();
    const bank = recorder.bank as Bank;
    const { look } = useLook();
    const { screen, battery } = useAwake();
    useTitle('Rest');
    useSince(recorder, LEAST_MS);
    useEffect(() => {
        document.body.classList.add('resting');
        return () => document.body.classList.remove('resting');
    }, []);

    const open = (event: Event) => {
        if ((event.target as Element).closest('.look')) return;
        event.preventDefault();
        swallow();
        go('bank');
    };
    const shift = SHIFTS[Math.floor(recorder.now() / SHIFT_MS) % SHIFTS.length];
    return (
        <main class="rest" data-look={look === 'sun' ? 'sun' : 'dusk'} onClick={open}>
            <h1 class="hide">Rest</h1>
            <div class="rest-top">
                <LookButton />
            </div>
            <Glance bank={bank} place={`rest-digits ${shift}`} />
            <div class="rest-words">
                {bank.net_words && <p>{bank.net_words}</p>}
                {recorder.keeping.fault && <p>NOT SAVED: {recorder.keeping.held.length} held. Open the bank.</p>}
                <p class="note">
                    {screen}. {battery && `${battery}.`}
                    {look === 'sun' && ' A white screen takes about four times the power of a dark one (a rough guess).'}
                </p>
                <button type="button" class="main-act">
                    Open the bank
                </button>
            </div>
        </main>
    );
}
