// Keeps one answer in step with what is chosen. The newest choice wins: one that was passed over is never asked for, and an
// answer is shown with the choice that it is for.
import { useEffect, useRef, useState } from 'preact/hooks';

/** An answer, or why there is none, and the choice that it is for. */
export interface Kept<Choice, Answer> {
    of: Choice;
    answer?: Answer;
    fault?: string;
}

async function kept<Choice, Answer>(
    choice: Choice,
    answerTo: (choice: Choice) => Promise<Answer>,
): Promise<Kept<Choice, Answer>> {
    try {
        return { of: choice, answer: await answerTo(choice) };
    } catch (fault) {
        return { of: choice, fault: (fault as Error).message };
    }
}

/** @param pauseMs  a choice must have stood so long before it is asked for */
export function useNewest<Choice, Answer>(
    choice: Choice,
    answerTo: (choice: Choice) => Promise<Answer>,
    pauseMs = 0,
): Kept<Choice, Answer> | undefined {
    const [shown, setShown] = useState<Kept<Choice, Answer>>();
    const wanted = useRef(choice);
    const isAsking = useRef(false);
    wanted.current = choice;

    const askNewest = async () => {
        isAsking.current = true;
        let asked: Choice;
        do {
            asked = wanted.current;
            setShown(await kept(asked, answerTo));
        } while (wanted.current !== asked);
        isAsking.current = false;
    };
    useEffect(() => {
        const start = () => {
            if (!isAsking.current) void askNewest();
        };
        if (pauseMs === 0) return void start();
        const timer = setTimeout(start, pauseMs);
        return () => clearTimeout(timer);
    }, [choice]);
    return shown;
}
