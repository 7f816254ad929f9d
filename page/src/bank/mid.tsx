// The one line between the digits and the undo strip. What is most urgent comes first, then what completes the last entry, then
// the advice, which is pressed for its reasons.
import { Fragment, type ComponentChildren } from 'preact';
import type { Bank } from '../record/answers';
import type { KeeperState } from '../record/keeper';
import { heldWords } from './held';
import type { Lay } from './lay';
import type { Weighing } from './pad';
import type { Strip } from './strip';
import { weightWords } from './weight';

export interface MidState {
    bank: Bank;
    keeping: KeeperState;
    fault: string; // why the journal gives no answers
    strip: Strip | undefined;
    sweep: number; // how many entries the rain made
    twin: Bank['same_fish'][number] | undefined;
    weighing: Weighing | undefined;
    lay: Lay | undefined;
    next: string | undefined; // the advice in fifteen letters; undefined: not looked yet
    looked: string; // "Last looked 11:42, working."
    isLocked: boolean;
    isArmed: boolean; // the first step of opening is done
}

const Line = ({ press, loud, children }: { press: string; loud?: boolean; children: ComponentChildren }) => (
    <button type="button" class={loud ? 'line loud' : 'line'} data-press={press}>
        {children}
    </button>
);

/** The word on the button comes first where the name does not hold it. */
const spoken = (word: string, name: string) => (name.split(' ').includes(word) ? name : `${word}, ${name}`);

export function Mid({ bank, keeping, fault, strip, sweep, twin, weighing, lay, next, looked, isLocked, isArmed }: MidState) {
    if (isArmed) return <p class="words">Now press Open</p>;
    if (keeping.fault)
        return (
            <Line press="held" loud>
                {heldWords(keeping)}. <u>Copy out</u>
            </Line>
        );
    if (fault) return <p class="words">No counts: {fault}</p>;
    if (sweep > 0) return <Line press="sweep">Cross out the last {sweep}?</Line>;
    if (isLocked) return null;
    if (strip)
        return (
            <div class="strip" role="group" aria-label={strip.label}>
                {strip.choices.map(({ word, name }, i) => (
                    <button type="button" key={word} data-press={`strip-${i}`} aria-label={spoken(word, name)}>
                        {word}
                    </button>
                ))}
            </div>
        );
    if (lay) return <p class="words lay">{lay.words}</p>;
    if (twin)
        return (
            <div class="strip" role="group" aria-label={twin.text}>
                <span class="ask">Same fish?</span>
                <button type="button" data-press="twin-same" aria-label="the same fish, cross one out">
                    same
                </button>
                <button type="button" data-press="twin-two" aria-label="two fish, keep both">
                    two
                </button>
            </div>
        );
    if (bank.net_words)
        return (
            <Fragment>
                <Line press="net" loud={bank.nets.some(({ over }) => over)}>
                    Change to net {(bank.net ?? 1) + 1}
                </Line>
                <span class="hide">{bank.net_words}</span>
            </Fragment>
        );
    if (weighing)
        return (
            <Line press="pad-open">
                Weigh {weighing.word}
                {weighing.keyed && `: ${weightWords(weighing.keyed, weighing.unit)}`}
            </Line>
        );
    const at = /\d\d:\d\d/.exec(looked)?.[0];
    return (
        <button type="button" class="line next-line" data-press="go-next">
            <span>{next ?? 'Next: working'}</span>
            {at && (
                <span class="at" aria-hidden="true">
                    looked
                    <br />
                    {at}
                </span>
            )}
            <span class="hide">. What to do next. {looked}</span>
        </button>
    );
}
