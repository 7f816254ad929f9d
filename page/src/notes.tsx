// Remarks that go with the answers, each once.
import type { Note } from './questions';

/** What holds of every answer of its kind, whatever was asked: these fold under one line. */
const STANDING = [
    'rig-unproved', 'float-untried', 'line-untried', 'elastic-untried', 'lay-untimed', 'aim-follows', 'aim-one-put-in',
];

/** What can hurt somebody, and that nothing was measured: these stand right under the answer. */
const FIRST = ['power-lines', 'estimate'];

export function NoteList({ notes }: { notes: readonly Pick<Note, 'text'>[] }) {
    return (
        <ul>
            {notes.map(({ text }) => (
                <li key={text}>{text}</li>
            ))}
        </ul>
    );
}

function once(notes: Note[]): Note[] {
    return [...new Map(notes.map((note) => [note.text, note])).values()];
}

export function FirstNotes({ notes }: { notes: Note[] }) {
    const first = FIRST.flatMap((code) => once(notes).filter((note) => note.code === code));
    if (first.length === 0) return null;
    return (
        <>
            <p class="note soft">In brackets: the range that 8 in 10 would lie in.</p>
            <div class="caution">
                {first.map((note) => (
                    <p key={note.text}>{note.text}</p>
                ))}
            </div>
        </>
    );
}

export function OtherNotes({ notes }: { notes: Note[] }) {
    const others = once(notes).filter((note) => !FIRST.includes(note.code));
    if (others.length === 0) return null;
    const standing = others.filter(({ code }) => STANDING.includes(code));
    return (
        <section class="remarks">
            <h2>What to know about it</h2>
            <NoteList notes={others.filter((note) => !standing.includes(note))} />
            {standing.length > 0 && (
                <details>
                    <summary>What the estimates rest on</summary>
                    <NoteList notes={standing} />
                </details>
            )}
        </section>
    );
}
