// A value between two buttons. A press steps once; holding a button, or its Enter key, runs on.
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Step } from './choice';
import { Term, type TermName } from './terms';

const HOLD_MS = 450;
const RUN_MS = 110;

interface StepButtonProps {
    sign: '\u2212' | '+';
    name: string;
    isAtEnd: boolean;
    step: () => void;
}

function StepButton({ sign, name, isAtEnd, step }: StepButtonProps) {
    const latest = useRef(step);
    latest.current = step;
    const timer = useRef(0);
    const hasRun = useRef(false);

    const stop = () => clearTimeout(timer.current);
    const run = () => {
        hasRun.current = true;
        latest.current();
        timer.current = window.setTimeout(run, RUN_MS);
    };
    const press = () => {
        stop();
        hasRun.current = false;
        timer.current = window.setTimeout(run, HOLD_MS);
    };
    // The click comes when the finger lifts; after a run it would be one step too many.
    const click = () => {
        stop();
        if (!hasRun.current) latest.current();
        hasRun.current = false;
    };
    useEffect(() => stop, []);

    return (
        <button
            type="button"
            aria-label={name}
            aria-disabled={isAtEnd}
            onPointerDown={press}
            onPointerUp={stop}
            onPointerLeave={stop}
            onPointerCancel={stop}
            onContextMenu={(event) => event.preventDefault()}
            onClick={click}
        >
            {sign}
        </button>
    );
}

export interface StepperProps {
    name: string;
    term?: TermName | undefined; // what the name means
    less: string;
    more: string;
    isTall?: boolean; // keeps room for long values, so that the buttons stay where they are
    isLeast?: boolean;
    isMost?: boolean;
    onStep: (by: Step) => void;
    below?: ComponentChildren;
    children: ComponentChildren; // the value
}

export function Stepper(props: StepperProps) {
    return (
        <div class={props.isTall ? 'field tall' : 'field'} role="group" aria-label={props.name}>
            <div>
                <span class="name">
                    {props.term ? <Term name={props.term}>{props.name}</Term> : props.name}
                </span>
                <span class="value" aria-live="polite">
                    {props.children}
                </span>
            </div>
            <StepButton
                sign={'\u2212'}
                name={props.less}
                isAtEnd={props.isLeast ?? false}
                step={() => props.onStep(-1)}
            />
            <StepButton sign="+" name={props.more} isAtEnd={props.isMost ?? false} step={() => props.onStep(1)} />
            {props.below && <div class="below">{props.below}</div>}
        </div>
    );
}
