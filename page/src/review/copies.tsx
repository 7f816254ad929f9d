// Keep it safe: copies out of this browser, and journals of other devices into it.
import { useEffect, useState } from 'preact/hooks';
import { reversal } from '../bank/rain';
import { OpenFile } from '../openfile';
import { useRecorder } from '../record/hooks';
import type { RecordEvent } from '../record/line';
import type { Recorder } from '../record/record';
import { pick } from '../shown';
import { count, join, type Counts } from './join';
import { download, fileStamp, handOver } from './save';

const KEY = 'copied';
interface Copied {
    n: number; // entries in the last copy; none ever goes away, so the rest is newer
    at: number;
}

/** How many entries there are, and how many of them are in no copy. */
function useCopied(recorder: Recorder) {
    const [all, setAll] = useState<{ n: number; copied?: Copied }>();
    const look = () =>
        Promise.all([recorder.everything(), recorder.store.meta<Copied>(KEY)]).then(
            ([lines, copied]) => setAll({ n: lines.length, ...(copied && { copied }) }),
            () => undefined, // the bar "NOT SAVED" tells why
        );
    useEffect(() => void look(), [recorder, recorder.version]);
    return { ...all, look };
}

const JSON_LINES = 'application/jsonl';
const allLines = (lines: readonly string[]) => lines.map((line) => `${line}\n`).join('');
const day = (ms: number) =>
    new Date(ms).toLocaleString('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

export function KeepSafe() {
    const recorder = useRecorder();
    const { n, copied, look } = useCopied(recorder);
    const [said, setSaid] = useState('');
    const [isPromised, setIsPromised] = useState<boolean>();
    useEffect(() => {
        Promise.resolve(navigator.storage?.persisted?.()).then(
            (is) => setIsPromised(is ?? false),
            () => setIsPromised(false),
        );
    }, []);
    if (n === undefined) return null;
    const left = n - (copied?.n ?? 0);

    /** Makes a file, hands it over and says so. Only the journal itself counts as a copy. */
    const save = async (make: (lines: string[], stamp: string) => Promise<boolean>, isCopy: boolean) => {
        try {
            const lines = await recorder.everything();
            if (!(await make(lines, fileStamp(recorder.now())))) return setSaid('Not saved: the share sheet was put away.');
            if (isCopy) await recorder.store.setMeta(KEY, { n: lines.length, at: recorder.now() });
            await look();
            setSaid(`${lines.length} ${isCopy ? 'entries' : 'rows'} handed over. Look that the file is there.`);
        } catch (reason) {
            setSaid(`Could not save: ${(reason as Error).message}. The record is still on this device.`);
        }
    };
    const saveCopy = () =>
        save((lines, stamp) => handOver(`${stamp}.journal.jsonl`, allLines(lines), JSON_LINES), true);
    const saveAll = () =>
        save(async (lines, stamp) => {
            download(`${stamp}.journal.jsonl`, allLines(lines), JSON_LINES);
            return true;
        }, true);
    const saveTable = () =>
        save(async (_, stamp) => handOver(`${stamp}.journal.csv`, await recorder.table(), 'text/csv'), false);
    return (
        <section class="safe">
            <h2>Keep it safe</h2>
            <p>
                {left === 0 ? (
                    n === 0 ? 'Nothing entered yet.' : 'Every entry is in a copy.'
                ) : (
                    <>
                        <b>
                            {left} {left === 1 ? 'entry' : 'entries'}
                        </b>{' '}
                        not yet copied out.
                    </>
                )}{' '}
                {copied && `Last copy: ${day(copied.at)}.`}
                {n > 0 && isPromised === false && ' The browser does not promise to keep them.'}
            </p>
            <div class="acts">
                <button type="button" class="main-act" disabled={n === 0} onClick={() => void saveCopy()}>
                    Save a copy
                </button>
                <button type="button" disabled={n === 0} onClick={() => void saveTable()}>
                    CSV
                </button>
                <button type="button" disabled={n === 0} onClick={() => void saveAll()}>
                    All data
                </button>
            </div>
            <p class="said" role="status">
                {said}
            </p>
        </section>
    );
}

function CountsTable({ counts }: { counts: Counts }) {
    const rows: readonly (readonly [string, number])[] = [
        ['New', counts.new],
        ['Already here', counts.known],
        ['Clash: an id here with other words; both are kept', counts.clash],
        ['Lines that cannot be read', counts.bad.length],
    ];
    return (
        <table aria-label="What adding it would do">
            <tbody>
                {rows.map(([name, number]) => (
                    <tr key={name}>
                        <th scope="row">{name}</th>
                        <td class="num">{number}</td>
                    </tr>
                ))}
            </tbody>
        </table>
    );
}

const MOST_BAD = 20;

export function AddFile() {
    const recorder = useRecorder();
    const [file, setFile] = useState<{ name: string; counts: Counts }>();
    const [added, setAdded] = useState<{ events: RecordEvent[]; isOut: boolean }>();
    const [fault, setFault] = useState('');

    const read = async (chosen: File | undefined) => {
        if (!chosen) return;
        setFault('');
        setAdded(undefined);
        setFile(undefined);
        try {
            setFile({ name: chosen.name, counts: await count(recorder, await chosen.text()) });
        } catch (reason) {
            setFault(`${chosen.name} could not be read: ${(reason as Error).message} Nothing was changed.`);
        }
    };
    const add = async (lines: string[]) => {
        try {
            const events = await join(recorder, lines);
            setAdded({ events, isOut: false });
            setFile(undefined);
            pick(undefined);
        } catch (reason) {
            setFault(`Could not store it: ${(reason as Error).message}. What was here is as it was.`);
        }
    };
    /** Takes the whole file out again, or puts it back: what it crossed out or put back is turned too. */
    const turn = () => {
        if (!added) return;
        const { cross, restore } = reversal(added.events);
        const [out, back] = added.isOut ? [restore, cross] : [cross, restore];
        const sessionOf = new Map(added.events.map(({ id, of, session }) => [of ?? id, session]));
        for (const { id, session } of added.events) sessionOf.set(id, session);
        for (const id of out) recorder.cross(id, sessionOf.get(id));
        for (const id of back) recorder.restore(id, sessionOf.get(id));
        setAdded({ ...added, isOut: !added.isOut });
    };
    const n = file ? file.counts.new + file.counts.clash : 0;
    const entries = (k: number) => `${k} ${k === 1 ? 'entry' : 'entries'}`;
    return (
        <section class="safe">
            <h2>Add a file</h2>
            <p>The journal of another device, or a copy of this one. What is here stays.</p>
            <OpenFile words="Choose a file" label="The file" accept=".jsonl,.json,.txt" onFile={(file) => void read(file)} />
            {fault && (
                <p class="caution" role="alert">
                    {fault}
                </p>
            )}
            {file && (
                <div class="counted">
                    <h3>{file.name}</h3>
                    <CountsTable counts={file.counts} />
                    {file.counts.bad.length > 0 && (
                        <ul class="bad-lines">
                            {file.counts.bad.slice(0, MOST_BAD).map(({ number, why }) => (
                                <li key={number}>
                                    Line {number}: {why}
                                </li>
                            ))}
                            {file.counts.bad.length > MOST_BAD && <li>and {file.counts.bad.length - MOST_BAD} more</li>}
                        </ul>
                    )}
                    <button
                        type="button"
                        class="main-act"
                        disabled={n === 0}
                        onClick={() => void add(file.counts.good)}
                    >
                        {n === 0 ? 'Nothing new in it' : `Add ${entries(n)}`}
                    </button>
                </div>
            )}
            {added && (
                <div class="done">
                    <p role="status">
                        {added.isOut ? 'Crossed out' : 'Added'} {entries(added.events.length)}.
                    </p>
                    <button type="button" onClick={turn}>
                        {added.isOut ? 'put back' : 'cross out'}
                    </button>
                </div>
            )}
        </section>
    );
}
