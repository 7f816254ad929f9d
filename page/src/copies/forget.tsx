// A borrowed phone: everything is given back as one file, that file is chosen again and read, and only when all that is here is
// in it can the phone be forgotten.
import { render } from 'preact';
import { useState } from 'preact/hooks';
import { useTitle } from '../frame';
import { NAME as BELIEFS } from '../background/snapshots';
import { OpenFile } from '../openfile';
import { useRecorder } from '../record/hooks';
import { EXPORTS, NAME as RECORD } from '../record/store';
import type { Recorder } from '../record/record';
import { go } from '../route';
import { SESSION } from '../offline';
import { read } from './count';
import { isSame, thingsOf } from './everything';
import { entries, many } from './safe';

/** What is here and not in the file of everything, in words; nothing when all of it is. */
async function notIn(recorder: Recorder, text: string): Promise<string[]> {
    const { head, lines } = read(text);
    if (!head) return ['the saved plans and settings: it is not a file of everything'];
    const there = new Set(lines.map(({ line }) => line));
    const nMissing = (await recorder.everything()).filter((line) => !there.has(line)).length;
    const things = Object.entries(await thingsOf(recorder)).filter(([name, value]) => !isSame(value, head.things[name]));
    return [
        ...(nMissing > 0 ? [entries(nMissing)] : []),
        ...things.map(([name]) => name.replace('/', ' ')),
    ];
}

const ours = (name: string): boolean => /^baitfall\b/.test(name) || [EXPORTS, SESSION].includes(name);
const keys = (storage: Storage) => Object.keys(storage).filter(ours);
const cacheNames = async () => ('caches' in self ? (await caches.keys()).filter(ours) : []);

function deleted(name: string): Promise<void> {
    const deleting = indexedDB.deleteDatabase(name);
    return new Promise((resolve, reject) => {
        deleting.onsuccess = () => resolve();
        deleting.onerror = () => reject(deleting.error as Error);
    });
}

/** What of ours is still there. */
async function traces(): Promise<string[]> {
    const databases = (await indexedDB.databases?.()) ?? []; // a browser that cannot say has said that they are deleted
    return [...keys(localStorage), ...(await cacheNames()), ...databases.flatMap(({ name }) => (name && ours(name) ? name : []))];
}

/** Clears all that this page keeps in the browser, and nothing of other pages; what is still there afterwards, and why. */
async function forget(recorder: Recorder): Promise<string[]> {
    recorder.end();
    const steps = [
        async () => [localStorage, sessionStorage].forEach((storage) => keys(storage).forEach((key) => storage.removeItem(key))),
        async () => (await navigator.serviceWorker?.getRegistration())?.unregister(),
        async () => Promise.all((await cacheNames()).map((name) => caches.delete(name))),
        async () => Promise.all([RECORD, BELIEFS].map(deleted)),
    ];
    const ended = await Promise.allSettled(steps.map((step) => step()));
    return [...(await traces()), ...ended.flatMap((one) => (one.status === 'rejected' ? [String(one.reason)] : []))];
}

/** The last that is shown, with nothing on it that could be pressed and kept. */
function Forgotten({ words, left }: { words: string; left: string[] }) {
    useTitle('Forgotten');
    return (
        <>
            <header class="top">
                <div class="title">
                    <h1>Forgotten</h1>
                </div>
            </header>
            <main class="forgotten">
                <p class="lead" role="status">
                    {left.length === 0 ? 'This phone is forgotten.' : `Not all of it could be cleared: ${left.join(', ')}.`}
                </p>
                {left.length > 0 && <p>Clear, in the browser{'\u2019'}s settings, what this page keeps.</p>}
                <p>
                    {words}, and the files for use without a signal, {left.length === 0 ? 'have been taken off it' : 'were to go too'}. They
                    are in the file that was read back: send it to your own phone, and take it off this one.
                </p>
                <p>Close this window. Opened again, Baitfall starts with nothing.</p>
            </main>
        </>
    );
}

interface Checked {
    name: string;
    text: string;
    n: number; // entries in it
    nThings: number;
    missing: string[];
}

export function Borrowed() {
    const recorder = useRecorder();
    const [file, setFile] = useState<Checked>();
    const [fault, setFault] = useState('');
    const check = async (name: string, text: string): Promise<Checked> => {
        const { head, lines } = read(text);
        const missing = await notIn(recorder, text);
        return { name, text, n: lines.length, nThings: Object.keys(head?.things ?? {}).length, missing };
    };
    const doing = (act: () => Promise<void>) => {
        setFault('');
        act().catch((reason: Error) => setFault(`${reason.message} Nothing was taken off this phone.`));
    };
    const choose = (chosen: File | undefined) =>
        chosen && doing(async () => setFile(await check(chosen.name, await chosen.text())));
    /** It is compared once more: something may have been entered since. */
    const forgetAll = ({ name, text }: Checked) =>
        doing(async () => {
            const now = await check(name, text);
            setFile(now);
            if (now.missing.length > 0 || whyNot) return;
            const words = `${entries(now.n)} and ${many(now.nThings, 'other thing', 'other things')}`;
            const left = await forget(recorder);
            render(<Forgotten words={words} left={left} />, document.getElementById('app') as HTMLElement);
        });
    const isWhole = file !== undefined && file.missing.length === 0;
    const whyNot = recorder.live
        ? 'A session is open: end it first.'
        : recorder.keeping.fault && 'Not everything is saved on this phone yet: not before it is.';
    return (
        <section class="safe">
            <h2>On a borrowed phone</h2>
            <ol class="steps">
                <li>Open your plan from its file, log the session, and end it.</li>
                <li>Save everything as one file and send it to yourself.</li>
                <li>Choose that file here: it is read back and compared with what is on this phone.</li>
                <li>Then forget this phone.</li>
            </ol>
            <div class="acts">
                <button type="button" onClick={() => go('plan')}>
                    Open a plan
                </button>
                <OpenFile words="Read the file back" label="The file of everything" accept=".jsonl,.txt" onFile={choose} />
            </div>
            <p role="status">
                {file &&
                    (isWhole
                        ? `All that is here is in ${file.name}: ${entries(file.n)}, ${many(file.nThings, 'other thing', 'other things')}.`
                        : `${file.name} lacks ${file.missing.join(', ')}. Save everything once more and choose that file.`)}
            </p>
            {fault && (
                <p class="caution" role="alert">
                    {fault}
                </p>
            )}
            <div class="acts">
                <button
                    type="button"
                    disabled={!isWhole || whyNot !== ''}
                    onClick={() => file && forgetAll(file)}
                >
                    Forget this phone
                </button>
            </div>
            <p class="note soft">
                {whyNot || 'It opens once the file has been read back and holds all that is here. Nothing can be put back afterwards.'}
            </p>
        </section>
    );
}
