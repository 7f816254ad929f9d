// The six outcomes: word, shape and place belong together and never change; the colour comes last.
import type { OutcomeWord } from '../record/answers';

export interface OutcomeButton {
    name: OutcomeWord;
    word: string;
    shape: { d: string; isOutline?: boolean; ring?: string };
}

/** In reading order, which is also the order of the keys 1 to 6. The circle tells how much of a fish there was. */
export const OUTCOMES: readonly OutcomeButton[] = [
    { name: 'fish', word: 'Fish', shape: { d: 'M5 .8a4.2 4.2 0 1 1 0 8.4a4.2 4.2 0 1 1 0-8.4Z' } },
    { name: 'missed', word: 'Missed', shape: { d: 'M1.4 1.4L8.6 8.6M8.6 1.4L1.4 8.6', isOutline: true } },
    {
        name: 'lost',
        word: 'Lost',
        shape: { d: 'M5 1.4A3.6 3.6 0 0 0 5 8.6Z', ring: 'M5 1.4a3.6 3.6 0 1 1 0 7.2a3.6 3.6 0 1 1 0-7.2Z' },
    },
    { name: 'touch', word: 'Touch', shape: { d: 'M5 1.5a3.5 3.5 0 1 1 0 7a3.5 3.5 0 1 1 0-7Z', isOutline: true } },
    { name: 'foul', word: 'Foul', shape: { d: 'M.8 1.4H9.2L5 9.2Z' } },
    { name: 'nothing', word: 'Nothing', shape: { d: 'M.8 4H9.2V6H.8Z' } },
];

export function Mark({ name }: { name: OutcomeWord }) {
    const { d, isOutline, ring } = (OUTCOMES.find((one) => one.name === name) as OutcomeButton).shape;
    return (
        <svg class="mark" viewBox="0 0 10 10" aria-hidden="true">
            {ring && <path class="outline" d={ring} />}
            <path class={isOutline ? 'outline' : ''} d={d} />
        </svg>
    );
}
