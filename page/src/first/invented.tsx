// A day at a water that does not exist, to look round in: it lies in a worker of its own, is never stored, and nothing of it
// comes into the record. Leaving the screen takes it away.
import { useEffect, useState } from 'preact/hooks';
import { Frame, Waits, follow } from '../frame';
import { useLook } from '../look';
import type { Picture } from '../questions';
import { Scratch } from '../rehearse/scratch';
import type { Review } from '../review/answers';
import { SessionPart, useIsWide } from '../review/review';

declare const INVENTED_DAY: string; // the file
declare const RECORD_WORKER: string;

async function linesOf(file: string): Promise<string[]> {
    const response = await fetch(file);
    if (!response.ok) throw new Error(`${file}: ${response.status}.`);
    return (await response.text()).trimEnd().split('\n');
}

interface Day {
    review: Review;
    timeline: Picture | undefined;
}

/** The day looked back on, as Review does it. */
function useInventedDay(look: string, wide: boolean): { day?: Day; fault?: string } {
    const [scratch] = useState(() => new Scratch<{ question: string; request: string }>(RECORD_WORKER));
    const [kept, setKept] = useState<{ day?: Day; fault?: string }>({});
    useEffect(() => {
        let isOver = false;
        const ask = async () => {
            const lines = await linesOf(INVENTED_DAY);
            const reviewed = (request: object) =>
                scratch.ask<Review>(lines, { question: 'review', request: JSON.stringify({ look, ...request }) });
            const review = await reviewed({ pictures: ['waits', 'catch', 'rates', 'change'] });
            const { pictures } = await reviewed({ pictures: ['timeline'], wide });
            return { review, timeline: pictures?.['timeline'] };
        };
        ask().then(
            (day) => !isOver && setKept({ day }),
            (reason: Error) => !isOver && setKept({ fault: reason.message }),
        );
        return () => {
            isOver = true;
        };
    }, [scratch, look, wide]);
    useEffect(() => () => scratch.end(), [scratch]);
    return kept;
}

export function InventedScreen() {
    const { day, fault } = useInventedDay(useLook().look, useIsWide());
    return (
        <Frame title="An invented day" below="Withy Pool, peg 14" shown="invented" tabs={[]}>
            <div class="caution invented">
                <p>
                    <b>Invented, from start to end.</b> There is no Withy Pool, and nobody fished there. A program made this day so
                    that you see what a session comes to. Nothing of it enters your record.
                </p>
            </div>
            {fault && (
                <p class="caution" role="alert">
                    <b>The day could not be opened.</b> {fault} Your record is as it was.
                </p>
            )}
            {!day && !fault && <Waits />}
            {day && (
                <SessionPart review={day.review} timeline={day.timeline}>
                    <a class="button" href="#plan" onClick={(event) => follow(event, 'plan')}>
                        Plan your own
                    </a>
                    <a class="button" href="#rehearse" onClick={(event) => follow(event, 'rehearse')}>
                        Rehearse a day
                    </a>
                </SessionPart>
            )}
        </Frame>
    );
}
