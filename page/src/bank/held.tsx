// What could not be stored: named one by one, with the way to get it out of the page.
import { useState } from 'preact/hooks';
import type { KeeperState } from '../record/keeper';
import { clockOf, lineOf, type RecordEvent } from '../record/line';
import { outcomeIn } from './acts';
import { OUTCOMES } from './marks';

function wordOf({ kind, body }: RecordEvent): string {
    const outcome = outcomeIn(kind, body);
    const own = OUTCOMES.find(({ name }) => name === outcome)?.word;
    return own ?? kind.charAt(0).toUpperCase() + kind.slice(1);
}

/** "NOT SAVED: 3 taps held. Copy out". */
export function heldWords({ held }: KeeperState): string {
    if (held.length === 0) return 'NOT SAVED: the record does not open';
    return `NOT SAVED: ${held.length} tap${held.length === 1 ? '' : 's'} held`;
}

export function HeldSheet({ keeping, onRetry, onClose }: { keeping: KeeperState; onRetry: () => void; onClose: () => void }) {
    const [text, setText] = useState('');
    const lines = () => keeping.held.map((event) => `${lineOf(event)}\n`).join('');
    const copyOut = async () => {
        const all = lines();
        setText(all);
        const file = new File([all], 'held.journal.jsonl', { type: 'application/jsonl' });
        if (navigator.canShare?.({ files: [file] }) && matchMedia('(pointer: coarse)').matches)
            await navigator.share({ files: [file] }).catch(() => undefined); // put off: the text stands below
        else await navigator.clipboard?.writeText(all).catch(() => undefined); // refused: the text stands below
    };
    return (
        <section class="held" aria-label="Not saved">
            <h2>{heldWords(keeping)}</h2>
            <p class="why">Could not save to this device: {keeping.fault}. What is held stays on this screen and is tried again.</p>
            <ol class="held-list">
                {keeping.held.map((event) => (
                    <li key={event.id}>
                        {wordOf(event)} {clockOf(event.at)}
                    </li>
                ))}
            </ol>
            {text && (
                <textarea readOnly rows={4} aria-label="What is held, one line each">
                    {text}
                </textarea>
            )}
            <div class="held-acts">
                <button type="button" class="main-act" onClick={() => void copyOut()}>
                    Copy out
                </button>
                <button type="button" onClick={onRetry}>
                    Try again
                </button>
                <button type="button" onClick={onClose}>
                    Close
                </button>
            </div>
        </section>
    );
}
