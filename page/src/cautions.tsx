// What can hurt somebody, power lines first: before a session, and again whenever another length of the pole is entered.
import { Waits } from './frame';
import type { Note } from './questions';
import { useAsked } from './record/hooks';

export function Cautions({ isAlert }: { isAlert?: boolean }) {
    const { answer, fault } = useAsked<{ notes: Note[] }>('peg', {});
    return (
        <div class="caution" {...(isAlert && { role: 'alert' })}>
            {answer?.notes.map((note) => (
                <p key={note.code}>{note.text}</p>
            ))}
            {fault && <p>{fault}</p>}
            {!answer && !fault && <Waits />}
        </div>
    );
}
