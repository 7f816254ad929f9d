// The undo strip. It names the last entry and crosses it out; then it puts it back, or goes on to the one before. It never
// times out, and what it shows depends on the journal alone: it is the same after the page was closed.
import type { Act } from '../record/answers';
import type { Undo } from './acts';
import { Mark, OUTCOMES } from './marks';

function Named({ act }: { act: Act }) {
    return (
        <span class="named">
            {act.word} {act.at_text.slice(0, 5)}
            <span class="seconds">{act.at_text.slice(5)}</span>
        </span>
    );
}

/** The entry before, in the little room there is: its shape, else its word. */
function Short({ act }: { act: Act }) {
    const outcome = OUTCOMES.find(({ word }) => word === act.word);
    return outcome ? <Mark name={outcome.name} /> : <span>{act.word.slice(0, 5)}</span>;
}

export function UndoStrip({ undo, isSlow, isLocked }: { undo: Undo; isSlow: boolean; isLocked: boolean }) {
    const { next, back } = undo;
    if (isLocked)
        return (
            <button type="button" class="undo" data-press="unlock" data-hold="800">
                <span>Locked. Hold here to open</span>
            </button>
        );
    if (isSlow)
        return (
            <button type="button" class="undo" data-press="undo">
                <span>saving…</span>
            </button>
        );
    if (back)
        return (
            <div class="undo-two">
                <button type="button" class="undo" data-press="back">
                    <span class="crossed">
                        Crossed out <Named act={back} />
                    </span>
                    <u>put back</u>
                </button>
                {next && (
                    <button type="button" class="undo more" data-press="undo-more">
                        <span>more</span>
                        <Short act={next} />
                        <span class="hide">
                            : cross out {next.word} {next.at_text} too
                        </span>
                    </button>
                )}
            </div>
        );
    if (next)
        return (
            <button type="button" class="undo" data-press="undo">
                <Named act={next} />
                <u>cross out</u>
            </button>
        );
    return (
        <button type="button" class="undo" data-press="undo" aria-disabled="true">
            <span>Nothing to cross out</span>
        </button>
    );
}
