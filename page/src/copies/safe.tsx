// Keep it safe: how much is in no copy yet, and files out of this browser.
import { useEffect, useState } from 'preact/hooks';
import { useRecorder } from '../record/hooks';
import { instant } from '../record/line';
import type { Recorder } from '../record/record';
import { fileStamp, handOver } from '../review/save';
import { thingsOf, type Head } from './everything';

const KEY = 'copied';
interface Copied {
    n: number; // entries in the last copy; none ever goes away, so the rest is newer
    at: number;
}

export const many = (n: number, one: string, more: string): string => `${n} ${n === 1 ? one : more}`;
export const entries = (n: number): string => many(n, 'entry', 'entries');

export interface Copying {
    n?: number | undefined; // entries here; undefined until they are counted, or while they cannot be
    left: number; // in no copy
    copied?: Copied | undefined;
    look: () => Promise<void>; // counts again
}

/** How many entries there are, and how many of them are in no copy. */
export function useCopied(): Copying {
    const recorder = useRecorder();
    const [all, setAll] = useState<{ n?: number; copied?: Copied | undefined }>({});
    const look = () =>
        Promise.all([recorder.everything(), recorder.store.meta<Copied>(KEY)]).then(
            ([lines, copied]) => setAll({ n: lines.length, copied }),
            () => setAll({}), // the bar "NOT SAVED" tells why
        );
    useEffect(() => void look(), [recorder, recorder.version]);
    return { ...all, left: Math.max(0, (all.n ?? 0) - (all.copied?.n ?? 0)), look };
}

/** "12 entries not yet copied out." */
export function LeftWords({ n, left }: Copying) {
    if (n === undefined) return null;
    if (n === 0) return <>Nothing entered yet.</>;
    if (left === 0) return <>Every entry is in a copy.</>;
    return (
        <>
            <b>{entries(left)}</b> not yet copied out.
        </>
    );
}

const JSON_LINES = 'application/jsonl';
const allLines = (lines: readonly string[]) => lines.map((line) => `${line}\n`).join('');
const day = (ms: number) =>
    new Date(ms).toLocaleString('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

/** Makes a file, hands it over, and gives the words that say so. A copy is remembered: what comes later is in none. */
async function save(recorder: Recorder, kind: string, type: string, make: (lines: string[]) => Promise<string>, isCopy = true): Promise<string> {
    try {
        const lines = await recorder.everything();
        const text = await make(lines);
        if (!(await handOver(`${fileStamp(recorder.now())}.${kind}`, text, type)))
            return 'Not saved: the share sheet was put away.';
        if (isCopy) await recorder.store.setMeta(KEY, { n: lines.length, at: recorder.now() } satisfies Copied);
        return `${entries(lines.length)} handed over. Check that the file is there.`;
    } catch (reason) {
        return `Could not save: ${(reason as Error).message}. The record is still on this device.`;
    }
}

async function everythingFile(recorder: Recorder, lines: string[]): Promise<string> {
    const head: Head = {
        everything: 1,
        at: instant(Date.now()),
        entries: lines.length,
        things: await thingsOf(recorder),
    };
    return allLines([JSON.stringify(head), ...lines]);
}

export function KeepSafe({ copying }: { copying: Copying }) {
    const recorder = useRecorder();
    const [said, setSaid] = useState('');
    const { n, copied, look } = copying;
    const doing = async (words: Promise<string>) => {
        setSaid(await words);
        await look();
    };
    const saveCopy = () => save(recorder, 'journal.jsonl', JSON_LINES, async (lines) => allLines(lines));
    const saveTable = () => save(recorder, 'journal.csv', 'text/csv', () => recorder.table(), false);
    const saveAll = () => save(recorder, 'everything.jsonl', JSON_LINES, (lines) => everythingFile(recorder, lines));
    return (
        <section class="safe">
            <h2>Keep it safe</h2>
            <p>
                <LeftWords {...copying} /> {copied && `Last copy: ${day(copied.at)}.`}
            </p>
            <div class="acts">
                <button type="button" class="main-act" disabled={!n} onClick={() => void doing(saveCopy())}>
                    Save a copy now
                </button>
                <button type="button" disabled={!n} onClick={() => void doing(saveTable())}>
                    CSV
                </button>
                <button type="button" onClick={() => void doing(saveAll())}>
                    Everything as one file
                </button>
            </div>
            <p class="note soft">
                A copy holds the entries. Everything holds the saved plans, the kit, what was learned and the settings too.
            </p>
            <p class="said" role="status">
                {said}
            </p>
        </section>
    );
}
