// How readings are taken: a watch, a counter, shot put on one after another, amounts typed in.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { FormField } from '../questions';
import type { Measurement, Taken } from './measures';

export interface TakerProps {
    how: Measurement;
    own: FormField; // of the first reading
    onTaken: (taken: Taken) => void;
}

const TICK_MS = 100;
const seconds = (ms: number) => (ms / 1000).toFixed(2);

/** Both presses are late by about the same, so that they count from press to press. */
export function Watch({ own, onTaken }: TakerProps) {
    const since = useRef<number>();
    const [ms, setMs] = useState(0);
    const [isRunning, setIsRunning] = useState(false);
    useEffect(() => {
        if (!isRunning) return undefined;
        const timer = setInterval(() => setMs(performance.now() - (since.current ?? 0)), TICK_MS);
        return () => clearInterval(timer);
    }, [isRunning]);
    const press = () => {
        const now = performance.now();
        if (!isRunning) {
            since.current = now;
            setMs(0);
            return setIsRunning(true);
        }
        const took = now - (since.current ?? now);
        if (took < own.least * 1000) return; // the same press twice
        setMs(took);
        setIsRunning(false);
        const said = seconds(took);
        onTaken({ values: [Number(said)], said: `${said} s` });
    };
    return (
        <>
            <p class="watch-digits" role="timer" aria-live="off">
                {seconds(ms)} <small>s</small>
            </p>
            <button type="button" class="main-act big-act" onClick={press}>
                {isRunning ? 'Landed' : 'Let go'}
            </button>
            <div class="acts">
                <button type="button" disabled={!isRunning} onClick={() => setIsRunning(false)}>
                    Not this one
                </button>
            </div>
        </>
    );
}

const STEPS = [10, 5, 1, -1];

export function Counter({ own, onTaken }: TakerProps) {
    const [n, setN] = useState(0);
    const add = (by: number) => setN(Math.min(Math.max(n + by, 0), own.most));
    const done = () => {
        onTaken({ values: [n], said: String(n) });
        setN(0);
    };
    return (
        <>
            <p class="watch-digits" role="status">
                {n} <small>pieces</small>
            </p>
            <div class="acts counting">
                {STEPS.map((by) => (
                    <button type="button" key={by} onClick={() => add(by)}>
                        {by > 0 ? `+${by}` : `\u2212${-by}`}
                    </button>
                ))}
            </div>
            <button type="button" class="main-act" disabled={n < own.least} onClick={done}>
                That was the filling
            </button>
        </>
    );
}

export interface ShotSize {
    word: string;
    mass_kg: number;
}
const grams = (kg: number) => `${Number((kg * 1000).toFixed(3))}\u00a0g`;

export function ShotTray({ sizes, onTaken }: TakerProps & { sizes: readonly ShotSize[] }) {
    const [on, setOn] = useState<readonly ShotSize[]>([]);
    const kg = on.reduce((sum, { mass_kg }) => sum + mass_kg, 0);
    const words = [...new Set(on.map(({ word }) => word))]
        .map((word) => `${on.filter((one) => one.word === word).length} \u00d7 ${word}`)
        .join(', ');
    const done = () => {
        onTaken({ values: [Number(kg.toPrecision(10))], said: `${grams(kg)}: ${words}` });
        setOn([]);
    };
    return (
        <>
            <p class="watch-digits" role="status">
                {grams(kg)}
            </p>
            <p class="then">{words || 'No shot on yet.'}</p>
            <div class="acts shot-sizes">
                {sizes.map((size) => (
                    <button type="button" key={size.word} onClick={() => setOn([...on, size])}>
                        {size.word}
                    </button>
                ))}
            </div>
            <div class="acts">
                <button type="button" disabled={on.length === 0} onClick={() => setOn(on.slice(0, -1))}>
                    Last one off
                </button>
                <button type="button" class="main-act" disabled={on.length === 0} onClick={done}>
                    The bristle begins here
                </button>
            </div>
        </>
    );
}

/** Amounts with their units; the core reads them and says what is wrong. */
export function Typed({ how, onTaken }: TakerProps) {
    const [typed, setTyped] = useState<Record<string, string>>({});
    const values = how.keys.map(({ key }) => typed[key]?.trim() ?? '');
    const done = () => {
        onTaken({ values, said: values.join(', ') });
        setTyped({});
    };
    return (
        <>
            {how.keys.map(({ key, name, hint }) => (
                <label class="text" key={key}>
                    <span class="name">{name}</span>
                    <input
                        value={typed[key] ?? ''}
                        maxLength={24}
                        placeholder={hint}
                        onInput={(event) => setTyped({ ...typed, [key]: event.currentTarget.value })}
                    />
                </label>
            ))}
            <button type="button" class="main-act" disabled={values.some((value) => value === '')} onClick={done}>
                Note it
            </button>
        </>
    );
}
