// Join another log: the file is counted first, then joined as a union; what was joined last can be taken out and put back, also
// after the page was closed.
import { useEffect, useState } from 'preact/hooks';
import { reversal } from '../bank/rain';
import { OpenFile } from '../openfile';
import { useRecorder } from '../record/hooks';
import { eventOf } from '../record/line';
import type { Recorder } from '../record/record';
import { pick } from '../shown';
import { count, type Bad, type Counts } from './count';
import { putThings, thingsOf, type Things } from './everything';
import { entries, many } from './safe';

const KEY = 'joined';
/** What was joined last. */
interface Joined {
    name: string;
    ids: string[]; // of the entries
    before: Things; // what stood in the place of what was put in; turned, what was put in
    isOut: boolean;
}

const nOf = (things: Things): number => Object.keys(things).length;
const isPlan = (name: string): boolean => name.startsWith('plan/');
const plansIn = (things: Things): number => Object.keys(things).filter(isPlan).length;

/** Puts them in and gives what stood there before. */
async function swap(recorder: Recorder, things: Things): Promise<Things> {
    const here = await thingsOf(recorder);
    await putThings(recorder, things);
    return Object.fromEntries(Object.keys(things).map((name) => [name, here[name]]));
}

async function joinFile(recorder: Recorder, name: string, { fresh, things }: Counts, isTheirs: boolean): Promise<void> {
    const isHere = new Set((await recorder.everything()).map((line) => eventOf(line).id));
    await recorder.join(fresh);
    const before = await swap(recorder, { ...things?.fresh, ...(isTheirs && things?.other) });
    const ids = fresh.map((line) => eventOf(line).id).filter((id) => !isHere.has(id)); // a clash cannot be taken out
    await recorder.store.setMeta(KEY, { name, ids, before, isOut: false } satisfies Joined);
    pick(undefined);
    if (nOf(before) > 0 && recorder.keeping.held.length === 0) location.reload(); // screens have read what they need by now
}

/** Takes the whole file out again, or puts it back: what it crossed out or put back is turned too. */
async function turn(recorder: Recorder, joined: Joined): Promise<void> {
    const ids = new Set(joined.ids);
    const events = (await recorder.everything()).map(eventOf).filter(({ id, session }) => ids.has(id) && session);
    const { cross, restore } = reversal(events.sort((a, b) => a.seq - b.seq));
    const [out, back] = joined.isOut ? [restore, cross] : [cross, restore];
    const sessionOf = new Map(events.map(({ id, of, session }) => [of ?? id, session]));
    for (const { id, session } of events) sessionOf.set(id, session);
    const entered = [
        ...out.map((id) => recorder.cross(id, sessionOf.get(id))),
        ...back.map((id) => recorder.restore(id, sessionOf.get(id))),
    ];
    await Promise.all(entered.map(({ stored }) => stored));
    const before = await swap(recorder, joined.before);
    await recorder.store.setMeta(KEY, { ...joined, before, isOut: !joined.isOut } satisfies Joined);
    if (nOf(before) > 0 && recorder.keeping.held.length === 0) location.reload();
}

const MOST_NAMED = 20;

function Named({ lines }: { lines: readonly Bad[] }) {
    if (lines.length === 0) return null;
    return (
        <ul class="bad-lines">
            {lines.slice(0, MOST_NAMED).map(({ number, why }) => (
                <li key={number}>
                    Line {number}: {why}
                </li>
            ))}
            {lines.length > MOST_NAMED && <li>and {lines.length - MOST_NAMED} more</li>}
        </ul>
    );
}

function Counted({ counts, isTheirs, onTheirs }: { counts: Counts; isTheirs: boolean; onTheirs: (is: boolean) => void }) {
    const { things, nMissing } = counts;
    const rows: readonly (readonly [string, number, boolean?])[] = [
        ['New', counts.new],
        ['Already here', counts.known],
        ['Not understood by this version: kept as they are', counts.kept.length],
        ['Clash: an id here with other words; both are kept', counts.clash],
        ['Lines that are no entries: left out', counts.bad.length],
    ];
    const more: typeof rows = things
        ? [
              ['Saved plans, new', plansIn(things.fresh)],
              ['Kit, settings and the like, new', nOf(things.fresh) - plansIn(things.fresh)],
              ['The same, but different here', nOf(things.other)],
          ]
        : [];
    return (
        <>
            {nMissing > 0 && (
                <p class="caution">
                    <b>The file was cut off.</b> It should hold {entries(nMissing)} more. What is there can be joined.
                </p>
            )}
            <table aria-label="What joining would do">
                <tbody>
                    {[...rows, ...more].map(([name, number]) => (
                        <tr key={name}>
                            <th scope="row">{name}</th>
                            <td class="num">{number}</td>
                        </tr>
                    ))}
                </tbody>
            </table>
            <Named lines={[...counts.kept, ...counts.bad]} />
            {things && nOf(things.other) > 0 && (
                <button type="button" aria-pressed={isTheirs} onClick={() => onTheirs(!isTheirs)}>
                    Where they differ, take the file’s
                </button>
            )}
        </>
    );
}

export function Join() {
    const recorder = useRecorder();
    const [file, setFile] = useState<{ name: string; counts: Counts }>();
    const [isTheirs, setIsTheirs] = useState(false);
    const [joined, setJoined] = useState<Joined>();
    const [fault, setFault] = useState('');
    const [isBusy, setIsBusy] = useState(false);
    const look = () => recorder.store.meta<Joined>(KEY).then(setJoined, () => undefined); // the bar "NOT SAVED" tells why
    useEffect(() => void look(), [recorder]);

    const doing = async (act: () => Promise<void>, words: string) => {
        setFault('');
        setIsBusy(true);
        try {
            await act();
            await look();
        } catch (reason) {
            setFault(`${words}: ${(reason as Error).message} What was here stays.`);
        }
        setIsBusy(false);
    };
    const read = (chosen: File | undefined) => {
        if (!chosen) return;
        setFile(undefined);
        setIsTheirs(false);
        void doing(
            async () => setFile({ name: chosen.name, counts: await count(recorder, await chosen.text()) }),
            `${chosen.name} could not be read`,
        );
    };
    const add = ({ name, counts }: { name: string; counts: Counts }) =>
        doing(async () => {
            await joinFile(recorder, name, counts, isTheirs);
            setFile(undefined);
        }, 'Could not store all of it');
    const n = file?.counts.fresh.length ?? 0;
    const { fresh = {}, other = {} } = file?.counts.things ?? {};
    const nThings = nOf(fresh) + (isTheirs ? nOf(other) : 0);
    const words = [n > 0 && entries(n), nThings > 0 && many(nThings, 'other thing', 'other things')].filter(Boolean);
    return (
        <section class="safe">
            <h2>Join another log</h2>
            <p>The log of another phone, an older copy, or everything as one file. What is here stays.</p>
            <OpenFile words="Choose a file" label="The file" accept=".jsonl,.json,.txt" onFile={read} />
            {fault && (
                <p class="caution" role="alert">
                    {fault}
                </p>
            )}
            {file && (
                <div class="counted">
                    <h3>{file.name}</h3>
                    <Counted counts={file.counts} isTheirs={isTheirs} onTheirs={setIsTheirs} />
                    <div class="acts">
                        <button
                            type="button"
                            class="main-act"
                            disabled={isBusy || words.length === 0}
                            onClick={() => void add(file)}
                        >
                            {words.length === 0 ? 'Nothing new in it' : `Join ${words.join(', ')}`}
                        </button>
                        <button type="button" onClick={() => setFile(undefined)}>
                            Leave
                        </button>
                    </div>
                </div>
            )}
            {joined && !file && (
                <div class="done">
                    <p role="status">
                        {joined.isOut ? 'Taken out again' : 'Joined'}: {entries(joined.ids.length)}
                        {nOf(joined.before) > 0 && ` and ${many(nOf(joined.before), 'other thing', 'other things')}`} of{' '}
                        {joined.name}.
                    </p>
                    <button
                        type="button"
                        disabled={isBusy}
                        onClick={() => void doing(() => turn(recorder, joined), 'Could not store all of it')}
                    >
                        {joined.isOut ? 'put back' : 'take out'}
                    </button>
                </div>
            )}
        </section>
    );
}
