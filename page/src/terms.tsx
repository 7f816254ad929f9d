// What a word of the trade means, in one plain line each: the one list. A word that is underlined opens its line.
import type { ComponentChildren } from 'preact';
import { useId, useState } from 'preact/hooks';
import { capital } from './words';

export const TERMS = {
    'back shot': 'Small shot on the line between float and pole tip: they hold that line down out of the wind.',
    bed: 'The feed that lies on the bottom at one spot.',
    bristle: 'The thin top of the float that shows above the water.',
    bulk: 'Several shot close together that take the bait down fast and hold the rig steady.',
    'butt mark': 'A mark on the bank under the butt of the pole: with the same mark the tip comes to the same place each time.',
    clump: 'A pot turned over at once: the feed goes down together.',
    depth: 'From the surface to the bottom as plumbed at this spot.',
    'dotted down': 'Shotted until only the tip of the bristle shows.',
    dropper: 'A small shot between bulk and hook: the last of the way down the bait falls slowly.',
    drift: 'How fast the water carries things along: the surface with the wind, below it often the other way.',
    elastic: 'The rubber inside the pole that gives when a fish runs.',
    fetch: 'How far the wind blows over open water before it reaches you: the longer, the more the water moves.',
    float: 'Shows what happens below; named by the weight of shot that it is said to carry.',
    'give or take': 'Eight times in ten the true value lies within so much of the one given.',
    'hook bait': 'What is on the hook. It is never counted as feed.',
    hooklength: 'The thinner line between the main line and the hook: it should be the first to give.',
    'lay-in': 'How the rig goes down on the feed, and how long after it.',
    lean: 'How far you lean forward to feed, so that the pot behind the tip comes to where the rig is fished.',
    marker: 'What you line the pole up with on the far bank. The nearer it is and the more it moves, the worse you aim.',
    miss: 'How far the hook bait lies from the middle of the feed.',
    'n in 10': 'Of ten drops like this one about so many; an estimate.',
    overdepth: 'How much longer the line from float to hook is than the water is deep: that much lies on the bottom.',
    pole: 'From the butt to the tip as it is fished, which is about how far out the float can be.',
    pot: 'The cup near the pole tip that carries the feed out.',
    shelf: 'A step in the bottom: shallow on its near side, deep beyond it.',
    shot: 'Small split weights on the line, by trade number: the higher the number, the lighter.',
    slope: 'How the bottom falls away: above 0 it is deeper further out.',
    sprinkle: 'A pot shaken out over some seconds: the feed goes down spread.',
    spot: 'One place aimed at: so far out, so far to the side, so deep.',
    strung: 'Shot spread over the line at equal distances: the bait falls slowly all the way.',
    'tip line': 'The line between pole tip and float: short lines lift well, the wind takes hold of long ones.',
    wait: 'From the moment the feed goes in until you begin to lower the rig, so that the bait comes down on feed that lies.',
} as const;
export type TermName = keyof typeof TERMS;

/** A word of the core's as a term, singular or plural; undefined: it needs no line. */
const termOf = (word: string): TermName | undefined =>
    (Object.keys(TERMS) as TermName[]).find((term) => word === term || word === `${term}s`);

/** A word of the core's at the head of a line; it opens its own when there is one for it. */
export function Word({ children: word }: { children: string }) {
    const term = termOf(word);
    return term ? <Term name={term}>{capital(word)}</Term> : <>{capital(word)}</>;
}

/** All words with their lines. */
export function Words() {
    return (
        <details class="words-list">
            <summary>Words of the trade</summary>
            <dl>
                {Object.entries(TERMS).map(([word, line]) => (
                    <div key={word}>
                        <dt>{word}</dt>
                        <dd>{line}</dd>
                    </div>
                ))}
            </dl>
        </details>
    );
}

/** The word as a button, and its line below once it was pressed. @param place  class of what holds the line */
export function Term({ name, children, place }: { name: TermName; children?: ComponentChildren; place?: string }) {
    const [isOpen, setIsOpen] = useState(false);
    const id = useId();
    return (
        <>
            <button
                type="button"
                class="term"
                aria-expanded={isOpen}
                aria-controls={isOpen ? id : undefined}
                onClick={() => setIsOpen(!isOpen)}
            >
                <u>{children ?? name}</u>
            </button>
            {isOpen && (
                <span class={place ? `plain ${place}` : 'plain'} id={id} role="note">
                    {TERMS[name]}
                </span>
            )}
        </>
    );
}
