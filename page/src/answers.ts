// The three answers of the quick screen. Each command is asked at a desk of its own.
import { requestOf, type Choice } from './choice';
import type { Kit } from './kit/kit';
import { useNewest, type Kept } from './newest';
import { ask, type Answer } from './questions';

export type Command = 'pot' | 'fall' | 'spread';
export type Answers = Record<Command, Kept<Choice, Answer> | undefined>;

function useAnswer(command: Command, choice: Choice, kit: Kit): Kept<Choice, Answer> | undefined {
    const extra = command === 'spread' ? { pictures: ['above', 'side'] } : {};
    return useNewest(choice, (asked) => ask<Answer>(command, command, { ...requestOf(asked, kit), ...extra }));
}

/** @param kit  of this device: what was measured counts */
export function useAnswers(choice: Choice, kit: Kit): Answers {
    return {
        pot: useAnswer('pot', choice, kit),
        fall: useAnswer('fall', choice, kit),
        spread: useAnswer('spread', choice, kit),
    };
}
