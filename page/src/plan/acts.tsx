// What is done with a plan: the card, saving and opening, the evening's times for a calendar, files in and out.
import { useEffect, useRef, useState } from 'preact/hooks';
import { follow } from '../frame';
import { ask } from '../questions';
import { instant } from '../record/line';
import { useRecorder } from '../record/hooks';
import { fileStamp, handOver } from '../review/save';
import type { PlanAnswer } from './answers';
import { loadSaved, save, type SavedPlan } from './keep';
import type { Plan } from './plan';
import { readPlan } from './read';

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
