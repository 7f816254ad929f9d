// What is done with a plan: the card, saving and opening, the evening's times for a calendar, files in and out.
import { useEffect, useRef, useState } from 'preact/hooks';
import { follow } from '../frame';
import { ask } from '../questions';
import { instant } from '../record/line';
import { useRecorder } from '../record/hooks';
import { fileStamp, handOver } from '../review/save';
import type { PlanAnswer } from './answers';
import { loadSaved, save, type SavedPlan } from './keep';
import { kitRows, type Plan, type PlanSpot } from './plan';

const MOST_BYTES = 1 << 20;

/** Rows as the core read them, with the names that they were given for people. */
const withNames = (rows: readonly PlanSpot[], given: readonly PlanSpot[]): PlanSpot[] =>
    rows.map((row) => {
        const name = given.find(({ id }) => id === row.id)?.name;
        return name === undefined ? row : { ...row, name };
    });

/** A plan as the core understands it: amounts with units become numbers that can be stepped, and every key is checked. Rejects with
 * the sentence of what is wrong. */
async function readPlan(text: string, fileName: string): Promise<Plan> {
    if (text.length > MOST_BYTES) throw new Error('The file is larger than a plan can be: 1 MiB.');
    const plan = JSON.parse(text) as Plan;
    const { inputs } = await ask<PlanAnswer>('plan now', 'plan', { ...plan, nominal: true });
    const read = inputs as Plan;
    const session = { ...plan.session, ...read.session }; // species and aims are read by nobody yet
    const kit = Object.entries((read['kit'] ?? {}) as Record<string, PlanSpot[]>).map(
        ([rows, list]) => [rows, withNames(list, kitRows(plan, rows))] as const,
    );
    return {
        ...read,
        schema: 1,
        name: plan.name ?? fileName,
        session,
        kit: Object.fromEntries(kit),
        spots: withNames(read.spots, plan.spots),
    };
}

function Saved({ saved, setPlan }: { saved: readonly SavedPlan[]; setPlan: (plan: Plan) => void }) {
    if (saved.length === 0) return null;
    return (
        <details>
            <summary>Saved plans</summary>
            <ul class="saved">
                {saved.map(({ at, plan }) => (
                    <li key={plan.name}>
                        <span>
                            <b>{plan.name}</b>
                            <small>{at.slice(0, 16).replace('T', ' ')}</small>
                        </span>
                        <button type="button" aria-label={`Open ${plan.name}`} onClick={() => setPlan(plan)}>
                            Open
                        </button>
                    </li>
                ))}
            </ul>
        </details>
    );
}

export function PlanActs({ plan, setPlan }: { plan: Plan; setPlan: (plan: Plan) => void }) {
    const recorder = useRecorder();
    const input = useRef<HTMLInputElement>(null);
    const [saved, setSaved] = useState<SavedPlan[]>([]);
    const [said, setSaid] = useState('');
    const [fault, setFault] = useState('');
    useEffect(() => void loadSaved(recorder).then(setSaved, (reason: Error) => setFault(reason.message)), [recorder]);

    const doing = async (act: () => Promise<string>) => {
        setFault('');
        setSaid('');
        try {
            setSaid(await act());
        } catch (reason) {
            setFault((reason as Error).message);
        }
    };
    const keep = () =>
        doing(async () => {
            setSaved(await save(recorder, plan));
            return `${plan.name} is saved on this device.`;
        });
    const stem = () => plan.name.toLowerCase().match(/[a-z0-9]+/g)?.join('-') ?? fileStamp(Date.now());
    const file = () =>
        doing(async () => {
            const text = `${JSON.stringify(plan, null, 2)}\n`;
            return (await handOver(`${stem()}.plan.json`, text, 'application/json')) ? 'The plan is a file of its own now.' : '';
        });
    const times = () =>
        doing(async () => {
            const { ics, prep } = await ask<PlanAnswer>('plan', 'plan', { ...plan, ics: instant(Date.now()) });
            if (!ics || !prep || prep.length === 0) throw new Error('There is nothing to get ready before the start.');
            return (await handOver(`${stem()}.ics`, ics, 'text/calendar')) ? 'The times are a calendar file now.' : '';
        });
    const open = (chosen: File | undefined) =>
        chosen &&
        doing(async () => {
            try {
                const read = await readPlan(await chosen.text(), chosen.name);
                setPlan(read);
                return `${read.name} is open.`;
            } catch (reason) {
                throw new Error(`${chosen.name} could not be opened: ${(reason as Error).message} The plan is as it was.`);
            }
        });
    return (
        <section class="plan-acts" aria-label="With this plan">
            <div class="acts">
                <a class="button main-act" href="#card" onClick={(event) => follow(event, 'card')}>
                    Make the card
                </a>
                <button type="button" onClick={() => void keep()}>
                    Save plan
                </button>
                <button type="button" onClick={() => void times()}>
                    Prep times
                </button>
                <button type="button" onClick={() => void file()}>
                    As a file
                </button>
                <button type="button" onClick={() => input.current?.click()}>
                    Open a file
                </button>
                <a class="button" href="#peg" onClick={(event) => follow(event, 'peg')}>
                    At the peg
                </a>
            </div>
            <input
                ref={input}
                class="hide"
                type="file"
                tabIndex={-1}
                aria-label="The plan file"
                accept=".json"
                onChange={(event) => {
                    void open(event.currentTarget.files?.[0]);
                    event.currentTarget.value = '';
                }}
            />
            <p class="said" role="status">
                {said}
            </p>
            {fault && (
                <p class="caution" role="alert">
                    {fault}
                </p>
            )}
            <Saved saved={saved} setPlan={setPlan} />
        </section>
    );
}
