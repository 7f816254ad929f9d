// Remarks that go with the answers, each once.
import type { Note } from './questions';

/** What can hurt somebody, and that nothing was measured: these stand right under the answer. */
const FIRST = ['power-lines', 'estimate'];

function once(notes: Note[]): Note[] {
    return [...new Map(notes.map((note) => [note.text, note])).values()];
}

export function FirstNotes({ notes }: { notes: Note[] }) {
    const first = FIRST.flatMap((code) => once(notes).filter((note) => note.code === code));
    if (first.length === 0) return null;
    return (
        <div class="caution">
            {first.map((note) => (
                <p key={note.text}>{note.text}</p>
            ))}
        </div>
    );
}

export function OtherNotes({ notes }: { notes: Note[] }) {
    const others = once(notes).filter((note) => !FIRST.includes(note.code));
    if (others.length === 0) return null;
    return (
        <section class="remarks">
            <h2>What to know about it</h2>
            <ul>
                {others.map((note) => (
                    <li key={note.text}>{note.text}</li>
                ))}
            </ul>
        </section>
    );
}
