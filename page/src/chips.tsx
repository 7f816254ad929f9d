// One of a few words, each a button; the chosen one is turned over.
import { Term, type TermName } from './terms';

export interface ChipsProps {
    label: string;
    choices: readonly (readonly [word: string, said: string])[];
    chosen: string;
    onChoose: (word: string) => void;
    isEven?: boolean; // all of one width
}

export function Chips({ label, choices, chosen, onChoose, isEven }: ChipsProps) {
    return (
        <div class={isEven ? 'pick even' : 'pick'} role="group" aria-label={label}>
            {choices.map(([word, said]) => (
                <button type="button" key={word} aria-pressed={word === chosen} onClick={() => onChoose(word)}>
                    {said}
                </button>
            ))}
        </div>
    );
}

/** The same as a field of a form, under its name. */
export function ChipsField({ term, note, ...chips }: ChipsProps & { term?: TermName; note?: string }) {
    return (
        <div class="field wide">
            <span class="name">{term ? <Term name={term}>{chips.label}</Term> : chips.label}</span>
            <Chips {...chips} />
            {note && <span class="note soft">{note}</span>}
        </div>
    );
}
