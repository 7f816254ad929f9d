// The three answers of the quick screen. Each command is asked at a desk of its own.
import { requestOf, type Choice } from './choice';
import { useNewest, type Kept } from './newest';
import { ask, type Answer } from './questions';

export type Command = 'pot' | 'fall' | 'spread';
export type Answers = Record<Command, Kept<Choice, Answer> | undefined>;

function useAnswer(command: Command, choice: Choice): Kept<Choice, Answer> | undefined {
    const extra = command === 'spread' ? { pictures: ['above', 'side'] } : {};
    return useNewest(choice, (asked) => ask<Answer>(command, command, { ...requestOf(asked), ...extra }));
}

export function useAnswers(choice: Choice): Answers {
    return {
        pot: useAnswer('pot', choice),
        fall: useAnswer('fall', choice),
        spread: useAnswer('spread', choice),
    };
}
