// The angler's own eye on the feed left: an entry like any other, at once, with what was shown beside it, and taken back as any
// other is. The model weighs it; it is not obeyed.
import { useRef, useState } from 'preact/hooks';
import type { Act, Bank } from '../record/answers';
import { clockOf } from '../record/line';
import { useRecorder } from '../record/hooks';
import type { Entry } from '../record/record';

const FLASH_MS = 300;
const EYES = [
    ['less', 'Less'],
    ['right', 'About right'],
    ['more', 'More'],
] as const;

/** The newest look of this device, crossed out or not. */
const lastLook = (bank: Bank): Act | undefined => bank.undo.find(({ kind }) => kind === 'look');

/** @param shown  the pieces that the screen shows as left; undefined: it shows none */
export function Eye({ spot, shown }: { spot: string; shown: number | undefined }) {
    const recorder = useRecorder();
    const [said, setSaid] = useState('');
    const words = useRef(new Map<string, string>()).current; // of the looks of this visit
    const last = lastLook(recorder.bank as Bank);

    const follow = (entry: Entry, text: string) => void entry.stored.then(() => setSaid(text));
    const look = (control: HTMLElement, eye: string, word: string) => {
        control.classList.add('hit');
        setTimeout(() => control.classList.remove('hit'), FLASH_MS);
        const body = { ...(spot && { spot }), eye, ...(shown !== undefined && { shown }) };
        const entry = recorder.log('look', body);
        const against = shown === undefined ? word : eye === 'right' ? `about ${shown}` : `${word} than ${shown}`;
        words.set(entry.event.id, against.toLowerCase());
        follow(entry, `${word} logged ${clockOf(entry.event.at).slice(0, 5)}. Cross out is ready.`);
    };
    const undo = (act: Act) => {
        const entry = act.is_crossed ? recorder.restore(act.id) : recorder.cross(act.id);
        follow(entry, `${act.word} ${act.at_text} ${act.is_crossed ? 'put back' : 'crossed out'}.`);
    };
    const name = last && `${last.word} ${last.at_text.slice(0, 5)}${words.has(last.id) ? `: ${words.get(last.id)}` : ''}`;
    return (
        <div class="eye">
            <h3 id="eye">Your own eye</h3>
            <div class="pick even" role="group" aria-labelledby="eye">
                {EYES.map(([eye, word]) => (
                    <button type="button" key={eye} onClick={(event) => look(event.currentTarget, eye, word)}>
                        {word}
                    </button>
                ))}
            </div>
            <div class="looked">
                {last ? (
                    <>
                        <span class={last.is_crossed ? 'crossed' : ''}>{name}</span>
                        <button type="button" onClick={() => undo(last)}>
                            {last.is_crossed ? 'put back' : 'cross out'}
                            <span class="hide"> {name}</span>
                        </button>
                    </>
                ) : (
                    <span class="soft">Logged as an entry, with the number shown.</span>
                )}
            </div>
            <div class="hide" role="status">
                {said}
            </div>
        </div>
    );
}
