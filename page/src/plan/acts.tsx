// What is done with a plan: the card, saving and opening, the evening's times for a calendar, files in and out.
import { useEffect, useState } from 'preact/hooks';
import { follow } from '../frame';
import { OpenFile } from '../openfile';
import { ask } from '../questions';
import { instant } from '../record/line';
import { useRecorder } from '../record/hooks';
import { fileStamp, handOver } from '../review/save';
import type { PlanAnswer } from './answers';
import { drop, keep, loadSaved, save, withOwnKit, type SavedPlan } from './keep';
import type { Plan } from './plan';
import { readPlan } from './read';

/** What was done, and how it is undone. */
interface Done {
    words: string;
    undo?: { words: string; act: () => Promise<Done> };
}

/** "2026-04-11 20:15". */
const minuteOf = (at: string) => at.slice(0, 16).replace('T', ' ');

interface SavedProps {
    saved: readonly SavedPlan[];
    onOpen: (plan: Plan) => void;
    onFile: (plan: Plan) => void;
    onDelete: (saved: SavedPlan) => void;
}

function Saved({ saved, onOpen, onFile, onDelete }: SavedProps) {
    if (saved.length === 0) return null;
    return (
        <details>
            <summary>Saved plans</summary>
            <ul class="saved">
                {saved.map((one) => (
                    <li key={one.plan.name}>
                        <span>
                            <b>{one.plan.name}</b>
                            <small>{minuteOf(one.at)}</small>
                        </span>
                        <span class="pair">
                            <button type="button" aria-label={`Open ${one.plan.name}`} onClick={() => onOpen(one.plan)}>
                                Open
                            </button>
                            <button type="button" aria-label={`File of ${one.plan.name}`} onClick={() => onFile(one.plan)}>
                                File
                            </button>
                            <button type="button" aria-label={`Delete ${one.plan.name}`} onClick={() => onDelete(one)}>
                                Delete
                            </button>
                        </span>
                    </li>
                ))}
            </ul>
        </details>
    );
}

export function PlanActs({ plan, setPlan }: { plan: Plan; setPlan: (plan: Plan) => void }) {
    const recorder = useRecorder();
    const [saved, setSaved] = useState<SavedPlan[]>([]);
    const [done, setDone] = useState<Done>({ words: '' });
    const [fault, setFault] = useState('');
    useEffect(() => void loadSaved(recorder).then(setSaved, (reason: Error) => setFault(reason.message)), [recorder]);

    const doing = async (act: () => Promise<Done>) => {
        setFault('');
        setDone({ words: '' });
        try {
            setDone(await act());
        } catch (reason) {
            setFault((reason as Error).message);
        }
    };
    const put = () =>
        doing(async () => {
            const older = (await loadSaved(recorder)).find((one) => one.plan.name === plan.name);
            setSaved(await save(recorder, plan));
            if (!older) return { words: `${plan.name} is saved on this device.` };
            const act = async () => {
                setSaved(await keep(recorder, older));
                return { words: `${plan.name} of ${minuteOf(older.at)} is the saved one again.` };
            };
            const words = `${plan.name} is saved on this device, in the place of the one of ${minuteOf(older.at)}.`;
            return { words, undo: { words: 'Put the older one back', act } };
        });
    /** Another plan comes in the place of the one on the screen, which may not be saved. */
    const show = async (next: Plan): Promise<Done> => {
        setPlan(await withOwnKit(recorder, next));
        const act = async () => {
            setPlan(plan);
            return { words: `${plan.name} is back.` };
        };
        return { words: `${next.name} is open.`, undo: { words: 'Put the one before back', act } };
    };
    const stem = (name: string) => name.toLowerCase().match(/[a-z0-9]+/g)?.join('-') ?? fileStamp(Date.now());
    const file = (one: Plan) =>
        doing(async () => {
            const text = `${JSON.stringify(one, null, 2)}\n`;
            const isOut = await handOver(`${stem(one.name)}.plan.json`, text, 'application/json');
            return { words: isOut ? 'The plan is a file of its own now.' : '' };
        });
    const remove = (one: SavedPlan) =>
        doing(async () => {
            setSaved(await drop(recorder, one.plan.name));
            const act = async () => {
                setSaved(await keep(recorder, one));
                return { words: `${one.plan.name} is saved again.` };
            };
            return { words: `${one.plan.name} is deleted.`, undo: { words: 'Put it back', act } };
        });
    const times = () =>
        doing(async () => {
            const { ics, prep } = await ask<PlanAnswer>('plan', 'plan', { ...plan, ics: instant(Date.now()) });
            if (!ics || !prep || prep.length === 0) throw new Error('There is nothing to get ready before the start.');
            const isOut = await handOver(`${stem(plan.name)}.ics`, ics, 'text/calendar');
            return { words: isOut ? 'The times are a calendar file now.' : '' };
        });
    const open = (chosen: File | undefined) =>
        chosen &&
        doing(async () => {
            try {
                return await show(await readPlan(await chosen.text(), chosen.name));
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
                <button type="button" onClick={() => void put()}>
                    Save plan
                </button>
                <button type="button" onClick={() => void times()}>
                    Prep times
                </button>
                <button type="button" onClick={() => void file(plan)}>
                    As a file
                </button>
                <OpenFile words="Open a file" label="The plan file" accept=".json" onFile={(file) => void open(file)} />
                <a class="button" href="#peg" onClick={(event) => follow(event, 'peg')}>
                    At the peg
                </a>
            </div>
            <p class="said" role="status">
                {done.words}
            </p>
            {done.undo && (
                <button type="button" onClick={() => done.undo && void doing(done.undo.act)}>
                    {done.undo.words}
                </button>
            )}
            {fault && (
                <p class="caution" role="alert">
                    {fault}
                </p>
            )}
            <Saved
                saved={saved}
                onOpen={(plan) => void doing(async () => show(plan))}
                onFile={(plan) => void file(plan)}
                onDelete={(one) => void remove(one)}
            />
        </section>
    );
}
