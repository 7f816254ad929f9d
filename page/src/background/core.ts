// The module of the record as its workers see it; wasm/journal.c is its whole surface.
import { load } from './module';
import { JOURNAL_FILE } from './simd';

interface Exports {
    journal_room(nEvents: number, nText: number): number;
    journal_take(n: number): number;
    journal_check(n: number): number;
    journal_n(): number;
    journal_row(i: number): number;
    journal_lessons(): number;
    ask(nQuestion: number, nJson: number): number;
    ask_begin(nQuestion: number, nJson: number): number;
    ask_moments(): number;
    ask_snapshot_n(): number;
    ask_room(nGiven: number, nSaved: number): number;
    ask_given_at(): number;
    ask_saved_at(): number;
    ask_fits(): number;
    ask_range(i: number, j: number, isGiven: number, saveAtS: number): void;
    ask_finish(): number;
}

/** What became of a line that was taken. */
export type Taken = 'new' | 'known' | 'clash';

/** Where a snapshot of a belief can stand, and what it is known by: the same key is the same belief. */
export interface Moment {
    t_s: number; // of the session
    key: string;
}

/** A question that is worked out in pieces, begun. Nothing else may be asked of the core before it is finished. */
export interface Asking {
    nItems: number; // 0: nothing is to be worked out; finish at once
    /** Where snapshots can stand up to the instant asked about, in order. */
    moments(): Moment[];
    /** Makes a snapshot the one to go on from; false when the question cannot go on from it. */
    goOnFrom(snapshot: Uint8Array): boolean;
    /** Works everything out, from the beginning when no snapshot is given.
     * @param saveAtS  a moment behind the one gone on from: its snapshot is returned */
    work(isGiven: boolean, saveAtS: number | undefined): Uint8Array | undefined;
    /** The answer or the error object, as JSON. */
    finish(): string;
}

export interface Core {
    /** An empty journal with room for so many events and bytes of lines; false when there is no memory for it. */
    journalRoom(nEvents: number, nText: number): boolean;
    /** Takes one line into the journal; a line that is refused gives the error object, as JSON. */
    journalTake(line: string): { taken: Taken } | { refused: string };
    /** The line in canonical form, or the error object, as JSON; the journal stays as it is. */
    journalCheck(line: string): string;
    /** All events of the journal as CSV: the head, then a row an event. */
    journalTable(): string;
    /** The earlier sessions that a session is learned from, newest first; one that is not there yet learns from all. */
    lessons(session: string): string[];
    /** The answer to a question about the journal, or the error object, as JSON. */
    ask(question: string, request: string): string;
    /** The same in pieces. */
    begin(question: string, request: string): Asking;
}

const TAKEN: readonly Taken[] = ['new', 'known', 'clash'];

export async function loadCore(): Promise<Core> {
    const { core, put, out } = await load<Exports>(JOURNAL_FILE);
    return {
        journalRoom: (nEvents, nText) => core.journal_room(nEvents, nText) === 0,
        journalTake(line) {
            const [n] = put(line);
            const status = core.journal_take(n as number);
            return status < 0 ? { refused: out() } : { taken: TAKEN[status] as Taken };
        },
        journalCheck(line) {
            const [n] = put(line);
            core.journal_check(n as number);
            return out();
        },
        journalTable() {
            const rows = Array.from({ length: core.journal_n() + 1 }, (_, i) => {
                core.journal_row(i - 1); // -1: the head
                return out();
            });
            return rows.join('');
        },
        lessons(session) {
            put(session);
            return Array.from({ length: core.journal_lessons() }, (_, i) => out().slice(32 * i, 32 * i + 32));
        },
        ask(question, request) {
            const [nQuestion, nJson] = put(question, request);
            core.ask(nQuestion as number, nJson as number);
            return out();
        },
        begin(question, request) {
            const [nQuestion, nJson] = put(question, request);
            const nItems = core.ask_begin(nQuestion as number, nJson as number);
            if (nItems < 0) throw new Error(out());
            const nSnapshots = () => core.ask_snapshot_n() * nItems;
            const room = (nGiven: number, nSaved: number) => {
                if (core.ask_room(nGiven, nSaved) !== 0) throw new Error('There is no memory for a belief.');
            };
            let nGiven = 0;
            return {
                nItems,
                moments() {
                    core.ask_moments();
                    return (JSON.parse(out()) as { moments: Moment[] }).moments;
                },
                goOnFrom(snapshot) {
                    nGiven = snapshot.length;
                    room(nGiven, nSnapshots());
                    new Uint8Array(core.memory.buffer).set(snapshot, core.ask_given_at());
                    return core.ask_fits() === 1;
                },
                work(isGiven, saveAtS) {
                    const nSaved = saveAtS === undefined ? 0 : nSnapshots();
                    room(nGiven, nSaved);
                    core.ask_range(0, nItems, isGiven ? 1 : 0, saveAtS ?? 0);
                    const saved = new Uint8Array(core.memory.buffer, core.ask_saved_at(), nSaved);
                    return saveAtS === undefined ? undefined : saved.slice();
                },
                finish() {
                    core.ask_finish();
                    return out();
                },
            };
        },
    };
}
