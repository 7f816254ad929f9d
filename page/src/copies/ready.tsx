// Ready for the bank: what has to be so the evening before, each thing by name, and what to look out for.
import { useEffect, useState } from 'preact/hooks';
import { screenChoice, useBattery } from '../awake';
import { Waits } from '../frame';
import { offline, type Offline } from '../offline';
import { useRecorder } from '../record/hooks';
import type { Copying } from './safe';

const LEAST_ROOM = 50e6; // bytes; a season is about a tenth of it
const LOW = 0.8; // of a battery: a white screen takes about two thirds of one in six hours (a rough guess)

/** Whether the browser promises to keep what is stored: in words. */
type Promised = 'yes' | 'not promised' | 'cannot be asked for here' | 'could not be asked for';
async function promised(ask: 'persisted' | 'persist'): Promise<Promised> {
    const storage: Partial<StorageManager> | undefined = navigator.storage;
    if (!storage?.[ask]) return 'cannot be asked for here';
    try {
        return (await storage[ask]()) ? 'yes' : 'not promised';
    } catch {
        return 'could not be asked for';
    }
}

async function roomLeft(): Promise<number | undefined> {
    try {
        const { quota, usage } = await navigator.storage.estimate();
        return quota === undefined ? undefined : quota - (usage ?? 0);
    } catch {
        return undefined; // it cannot say
    }
}

const gigabytes = (bytes: number) => (bytes < 1e9 ? `${Math.floor(bytes / 1e6)} MB` : `${(bytes / 1e9).toFixed(1)} GB`);

const isInstalled = () => matchMedia('(display-mode: standalone), (display-mode: fullscreen)').matches;

interface Row {
    name: string;
    words: string;
    isMissing?: boolean | undefined; // without it one is not ready
}

export function Ready({ copying }: { copying: Copying }) {
    const recorder = useRecorder();
    const battery = useBattery();
    const [kept, setKept] = useState<Offline>();
    const [storage, setStorage] = useState<Promised>();
    const [room, setRoom] = useState<number>();
    useEffect(() => {
        void offline().then(setKept);
        void promised('persisted').then(setStorage);
        void roomLeft().then(setRoom);
    }, []);
    const { fault } = recorder.keeping;
    if (!kept || !storage || (copying.n === undefined && !fault)) return <Waits />;

    const isOn = 'wakeLock' in navigator && screenChoice() === 'on';
    const isCopied = copying.n !== undefined && copying.left === 0;
    const rows: Row[] = [
        { name: 'Opens with no signal', words: kept.words, isMissing: !kept.isReady },
        {
            name: 'This window runs from what is kept',
            words: kept.isInCharge ? 'yes' : 'not yet: close it and open it once more',
            isMissing: !kept.isInCharge,
        },
        { name: 'The record opens', words: fault ? `no. ${fault}` : 'yes', isMissing: fault !== '' },
        { name: 'A copy of every entry', words: isCopied ? 'yes' : 'no', isMissing: !isCopied },
        {
            name: 'Room left',
            words: room === undefined ? 'not known' : gigabytes(room),
            isMissing: room !== undefined && room < LEAST_ROOM,
        },
        { name: 'Storage kept by this browser', words: storage },
        { name: 'Screen stays on in a session', words: isOn ? 'yes' : 'the phone decides' },
        { name: 'Battery', words: battery ? `${Math.round(battery.level * 100)} %` : 'not known' },
    ];
    const missing = rows.filter(({ isMissing }) => isMissing).map(({ name }) => name.toLowerCase());
    const cautions = [
        kept.isNewer && 'A newer Baitfall waits. It takes over when all windows are closed and no session is open.',
        storage !== 'yes' && 'Storage not promised: save a copy at the end of each session.',
        !isInstalled() &&
            'Not installed: some browsers clear a page that was not used for a week. Put it on this device, and join a copy there: on some phones it begins empty.',
        !isOn && 'The screen goes off by itself: each entry then begins at the lock screen.',
        battery && battery.level < LOW && !battery.charging &&
            'Charge it: six hours of a bright screen take about two thirds of a battery, of a dark one a sixth (a rough guess).',
    ].filter(Boolean);
    return (
        <section class="ready">
            <h2>Ready for the bank</h2>
            <p class="lead">{missing.length === 0 ? 'Ready.' : `Not ready. Missing: ${missing.join('; ')}.`}</p>
            <table aria-label="Ready for the bank">
                <tbody>
                    {rows.map(({ name, words, isMissing }) => (
                        <tr key={name} class={isMissing ? 'missing' : ''}>
                            <th scope="row">{name}</th>
                            <td>{words}</td>
                        </tr>
                    ))}
                </tbody>
            </table>
            {cautions.map((words) => (
                <p class="note" key={words}>
                    {words}
                </p>
            ))}
            {storage === 'not promised' && (
                <button type="button" onClick={() => void promised('persist').then(setStorage)}>
                    Ask for storage that is kept
                </button>
            )}
        </section>
    );
}
