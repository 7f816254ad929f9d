// Remarks that go with the answers, each once; what can hurt somebody first and framed.
import type { Note } from './questions';

const CAUTIONS = ['power-lines'];

export function Notes({ notes }: { notes: Note[] }) {
    const once = [...new Map(notes.map((note) => [note.text, note])).values()];
    const isCaution = (note: Note) => CAUTIONS.includes(note.code);
    if (once.length === 0) return null;
    return (
        <section class="remarks">
            <h2>Mind</h2>
            {once.filter(isCaution).map((note) => (
                <p class="caution" key={note.text}>
                    {note.text}
                </p>
            ))}
            <ul class="notes">
                {once
                    .filter((note) => !isCaution(note))
                    .map((note) => (
                        <li key={note.text}>{note.text}</li>
                    ))}
            </ul>
        </section>
    );
}
