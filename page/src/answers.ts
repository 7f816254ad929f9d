// Keeps the answers in step with what is chosen. Each command is asked at a desk of its own, and there the newest choice
// wins: one that was passed over is never asked for.
import { useEffect, useRef, useState } from 'preact/hooks';
import { requestOf, type Choice } from './choice';
import { ask, type Answer } from './questions';

export type Command = 'pot' | 'fall' | 'spread';

/** An answer, or why there is none, and the choice that it is for. */
export interface Kept {
    of: Choice;
    answer?: Answer;
    fault?: string;
}
export type Answers = Record<Command, Kept | undefined>;

async function answerTo(command: Command, choice: Choice): Promise<Kept> {
    const extra = command === 'spread' ? { pictures: ['above', 'side'] } : {};
    try {
        return { of: choice, answer: await ask<Answer>(command, command, { ...requestOf(choice), ...extra }) };
    } catch (fault) {
        return { of: choice, fault: (fault as Error).message };
    }
}

function useAnswer(command: Command, choice: Choice): Kept | undefined {
    const [kept, setKept] = useState<Kept>();
    const wanted = useRef(choice);
    const isAsking = useRef(false);
    wanted.current = choice;

    const askNewest = async () => {
        isAsking.current = true;
        let asked: Choice;
        do {
            asked = wanted.current;
            setKept(await answerTo(command, asked));
        } while (wanted.current !== asked);
        isAsking.current = false;
    };
    useEffect(() => {
        if (!isAsking.current) void askNewest();
    }, [choice]);
    return kept;
}

export function useAnswers(choice: Choice): Answers {
    return {
        pot: useAnswer('pot', choice),
        fall: useAnswer('fall', choice),
        spread: useAnswer('spread', choice),
    };
}
