// Keeps the answers in step with what is chosen. The newest choice wins: one that was passed over is never asked for.
import { useEffect, useRef, useState } from 'preact/hooks';
import { requestOf, type Choice } from './choice';
import { ask, type Answer } from './questions';

/** In this order, the quick ones first. */
const COMMANDS = ['pot', 'fall', 'spread'] as const;
export type Command = (typeof COMMANDS)[number];

interface Kept {
    of: Choice;
    answer?: Answer;
    fault?: string;
}
export type Answers = Partial<Record<Command, Kept>>;

async function answerOne(command: Command, choice: Choice): Promise<Kept> {
    const extra = command === 'spread' ? { pictures: ['above', 'side'] } : {};
    try {
        return { of: choice, answer: await ask<Answer>(command, { ...requestOf(choice), ...extra }) };
    } catch (fault) {
        return { of: choice, fault: (fault as Error).message };
    }
}

export function useAnswers(choice: Choice): Answers {
    const [answers, setAnswers] = useState<Answers>({});
    const wanted = useRef(choice);
    const isAsking = useRef(false);
    wanted.current = choice;

    const askNewest = async () => {
        isAsking.current = true;
        let choiceAsked: Choice;
        do {
            choiceAsked = wanted.current;
            for (const command of COMMANDS) {
                if (wanted.current !== choiceAsked) break;
                const kept = await answerOne(command, choiceAsked);
                setAnswers((before) => ({ ...before, [command]: kept }));
            }
        } while (wanted.current !== choiceAsked);
        isAsking.current = false;
    };
    useEffect(() => {
        if (!isAsking.current) void askNewest();
    }, [choice]);
    return answers;
}
