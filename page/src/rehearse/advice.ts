// Advice in a rehearsal: the same that the Bank gives, about the journal of the rehearsal alone.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { NextAnswer } from '../next/answers';
import type { Played } from './rehearsal';
import { Scratch } from './scratch';

declare const BELIEF_WORKER: string;

export interface Advice {
    of?: Played; // of which moment
    answer?: NextAnswer;
    fault?: string;
}

export function useRehearsedAdvice(played: Played): Advice {
    const scratch = useRef<Scratch<{ question: string; request: object; spot: string }>>();
    const [advice, setAdvice] = useState<Advice>({});
    useEffect(() => () => scratch.current?.end(), []);
    useEffect(() => {
        let isOver = false;
        scratch.current ??= new Scratch(BELIEF_WORKER);
        const { answer, file } = played;
        const { plan, kit, objective, target_kg } = file.setup;
        const request = { session: answer.session, now: answer.now, phone: true, plan, kit, objective, target_kg };
        scratch.current.ask<NextAnswer>(answer.lines, { question: 'next', request, spot: '' }).then(
            (next) => !isOver && setAdvice({ of: played, answer: next }),
            (reason: Error) => !isOver && setAdvice({ of: played, fault: reason.message }),
        );
        return () => {
            isOver = true;
        };
    }, [played]);
    return advice;
}
